//! `sixhold link`: the web address of a scene.

use super::Outcome;
use super::args::LinkArgs;
use super::open;
use super::output::{self, Failure};
use crate::address::SceneAddress;
use crate::theme::ThemeName;

/// Prints the address.
pub(crate) fn run(args: &LinkArgs) -> Result<Outcome, Failure> {
    let study = open::open(&args.file)?;
    if let Some(name) = &args.case {
        open::case(&study, name)?;
    }
    let address = SceneAddress {
        case: args.case.clone(),
        theme: args
            .theme
            .map(|theme| ThemeName::from(theme).word().to_owned()),
        view: args.view,
        stage: args.stage,
        guess: args.guess,
        ..SceneAddress::of(study.addressed())
    };
    let address = address
        .at(args.base.as_deref().unwrap_or_default())
        .map_err(|error| Failure::plain(format!("{}: {error}", study.name())))?;
    output::answer(&(address + "\n"))?;
    Ok(Outcome::Done)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::address::THEMES;

    #[test]
    fn an_address_can_name_every_theme() {
        assert_eq!(ThemeName::ALL.map(ThemeName::word), THEMES);
    }
}
