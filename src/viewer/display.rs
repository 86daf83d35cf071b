//! Whether there is a display to open a window on, asked before the window's loop is built, which would only panic.

/// Looks for a display in the environment.
///
/// # Errors
/// What was tried, in words.
pub(crate) fn check(variable: impl Fn(&str) -> Option<String>) -> Result<(), String> {
    if !cfg!(target_os = "linux") {
        return Ok(());
    }
    let set = |name| variable(name).filter(|value| !value.is_empty());
    if cfg!(feature = "wayland")
        && (set("WAYLAND_DISPLAY").or_else(|| set("WAYLAND_SOCKET"))).is_some()
    {
        return Ok(());
    }
    let Some(display) = set("DISPLAY") else {
        return Err("neither DISPLAY nor WAYLAND_DISPLAY names one".to_owned());
    };
    answers(&display)
        .map_err(|error| format!("DISPLAY is {display}, but nothing answers there ({error})"))
}

/// Whether an X server answers at an address such as `:0` or `host:10.0`; odd addresses are left to the window's loop.
#[cfg(target_os = "linux")]
fn answers(display: &str) -> std::io::Result<()> {
    use std::net::TcpStream;
    use std::os::linux::net::SocketAddrExt;
    use std::os::unix::net::{SocketAddr, UnixStream};

    let Some((host, number)) = display.rsplit_once(':') else {
        return Ok(());
    };
    let number = number.split('.').next().unwrap_or(number);
    let Ok(number) = number.parse::<u16>() else {
        return Ok(());
    };
    if host.is_empty() || host == "unix" {
        let path = format!("/tmp/.X11-unix/X{number}");
        let named = SocketAddr::from_abstract_name(&path)?;
        return UnixStream::connect_addr(&named)
            .or_else(|_| UnixStream::connect(&path))
            .map(drop);
    }
    let port = number.saturating_add(X11_PORT);
    TcpStream::connect((host, port)).map(drop)
}

#[cfg(not(target_os = "linux"))]
fn answers(_display: &str) -> std::io::Result<()> {
    Ok(())
}

/// First port of X servers that listen on the network (X.Org, X(7)).
#[cfg(target_os = "linux")]
const X11_PORT: u16 = 6000;

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;

    #[test]
    fn without_a_display_it_says_so() {
        let error = check(|_| None).unwrap_err();
        assert!(error.contains("DISPLAY"), "{error}");
    }

    #[test]
    fn a_display_that_nobody_serves_is_not_taken_for_one() {
        let dead = |name: &str| (name == "DISPLAY").then(|| ":39871".to_owned());
        let error = check(dead).unwrap_err();
        assert!(error.contains(":39871"), "{error}");
    }

    #[test]
    fn odd_addresses_are_left_to_the_loop() {
        assert!(answers("somewhere").is_ok());
        assert!(answers(":abc").is_ok());
    }
}
