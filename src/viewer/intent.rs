//! What a user can ask for, by key or by panel; each plugin acts on its own part.

use bevy::prelude::*;

use super::framing::View;
use super::state::{Pointed, Source};
use crate::motion::Selection;
use crate::theme::ThemeName;

/// One thing that a user asks for.
#[derive(Message, Debug, Clone, PartialEq)]
pub(crate) enum Intent {
    /// Start or stop the motion.
    PlayOrPause,
    /// Put the body at this position of the swing, −1 to 1, and hold it there.
    HoldAt(f32),
    /// Swing this wide, as a fraction of the default swing.
    Amplitude(f32),
    /// Swing this fast, as a multiple of the default pace.
    Pace(f32),
    /// Show this motion.
    Motion(Selection),
    /// Show this load case.
    Case(usize),
    /// Show the next load case, round and round.
    NextCase,
    /// One step on through the motions of a scene and then to the next scene, or back.
    Step(Step),
    /// Point this out in the picture, or no longer where it is already.
    Point(Pointed),
    /// Point out the next thing of the ledger, or the one before; after the last comes nothing.
    StepPointed(Step),
    /// Release this reaction of the whole scene, or hold it again.
    Switch(usize),
    /// Hold everything again that was released.
    HoldAll,
    /// Draw a link by hand, or no longer.
    DrawLink,
    /// Take the link drawn by hand away.
    DropLink,
    /// Open this scene.
    Open(Source),
    /// Look from here.
    Look(View),
    /// Look from the next of the standard views, or the one before.
    StepView(Step),
    /// Bring everything into view without turning.
    Fit,
    /// Turn the camera by these degrees: azimuth and elevation.
    Turn(f32, f32),
    /// Change between perspective and parallel projection.
    SwitchLens,
    /// Use this theme.
    Theme(ThemeName),
    /// Show or hide a layer of the picture.
    Layer(Layer, bool),
    /// Change the layer to what it is not.
    ToggleLayer(Layer),
    /// Keep still: no camera flights.
    ReducedMotion(bool),
    /// Open or close a panel.
    TogglePanel(Panel),
    /// Close whatever is open.
    CloseAll,
    /// Larger (above 1) or smaller text.
    Enlarge(f32),
    /// Text at its usual size.
    UsualSize,
    /// Fill the screen, or no longer.
    FullScreen,
}

/// Forwards or back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step {
    /// To the next.
    On,
    /// To the one before.
    Back,
}

impl Step {
    /// The index after a step among `count` that follow each other round and round; 0 where there are none.
    pub(crate) fn around(self, index: usize, count: usize) -> usize {
        match (self, count) {
            (_, 0) => 0,
            (Self::On, _) => (index + 1) % count,
            (Self::Back, _) => (index + count - 1) % count,
        }
    }
}

/// A layer of the picture that can be hidden.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layer {
    /// Reactions and their names.
    Reactions,
    /// Loads and their values.
    Loads,
    /// Shared axis, ribbon, ghosts.
    Motion,
}

/// A panel that is closed until asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Panel {
    /// The ledger's pages: reason, motions, reactions.
    Ledger,
    /// The scenes to choose from.
    Scenes,
    /// The keys.
    Keys,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stepping_goes_round() {
        assert_eq!(Step::On.around(2, 3), 0);
        assert_eq!(Step::Back.around(0, 3), 2);
        assert_eq!(Step::Back.around(0, 0), 0);
    }
}
