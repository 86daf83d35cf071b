//! What a user can ask for, by key or by panel, split by who acts on it.
//!
//! Keys and panels ask for an [`Intent`]; [`Intents`] passes each on to its owner, which matches its own kind in full: the
//! compiler finds one that nobody acts on.

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;

use std::path::PathBuf;

use super::framing::View;
use super::handouts::Handout;
use super::making::Addition;
use super::shown::Pivot;
use super::state::{Pointed, Source};
use crate::draft::{Field, NewScene, Proposal, Reshaping};
use crate::motion::Selection;
use crate::practice::Answer;
use crate::statics::CaseIndex;
use crate::study::WholeReactionIndex;
use crate::theme::ThemeName;

/// One thing that a user asks for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Intent {
    /// Of the playback.
    Playback(PlaybackIntent),
    /// Of the scenes and what can be chosen in them.
    Scene(SceneIntent),
    /// Of what is studied in a scene.
    Study(StudyIntent),
    /// Of the link drawn by hand.
    Link(LinkIntent),
    /// Of the scene in the making.
    Making(MakingIntent),
    /// Of how a scene is unveiled.
    Lesson(LessonIntent),
    /// Of what is taken home.
    Handout(HandoutIntent),
    /// Of the questions to a student.
    Practice(PracticeIntent),
    /// Of the picture in front of a class.
    Lectern(LectureIntent),
    /// Of the camera.
    Camera(CameraIntent),
    /// Of how everything looks.
    Look(LookIntent),
    /// Of the panels.
    Panel(PanelIntent),
    /// Close whatever is open and point out nothing; heard by all who have something to close.
    CloseAll,
}

/// How the motion plays.
#[derive(Message, Debug, Clone, Copy, PartialEq)]
pub(crate) enum PlaybackIntent {
    /// Start or stop the motion.
    PlayOrPause,
    /// Put the body at this position of the swing, −1 to 1, and hold it there.
    HoldAt(f32),
    /// Swing this wide, as a fraction of the default swing.
    Amplitude(f32),
    /// Swing this fast, as a multiple of the default pace.
    Pace(f32),
}

/// Which scene, motion and load case are shown.
#[derive(Message, Debug, Clone, PartialEq)]
pub(crate) enum SceneIntent {
    /// Open this scene.
    Open(Source),
    /// One step on through the motions of a scene and then to the next scene, or back.
    Step(StepDirection),
    /// Show this motion.
    Motion(Selection),
    /// Show this load case.
    Case(CaseIndex),
    /// Show the next load case, round and round.
    NextCase,
    /// Show verdicts beside the scenes to choose from, or hide them.
    ShowVerdicts(bool),
}

/// What is looked into.
#[derive(Message, Debug, Clone, Copy, PartialEq)]
pub(crate) enum StudyIntent {
    /// Point this out in the picture, or no longer where it is already.
    Point(Pointed),
    /// Point out the next thing of the ledger, or the one before; after the last comes nothing.
    StepPointed(StepDirection),
    /// Release this reaction of the whole scene, or hold it again.
    Switch(WholeReactionIndex),
    /// Hold everything again that was released.
    HoldAll,
    /// Light this up as long as the pointer is over it.
    Glance(Option<Pointed>),
    /// Take moments about this.
    SumAbout(Pivot),
}

/// The link drawn by hand.
#[derive(Message, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LinkIntent {
    /// Draw a link by hand, or no longer.
    Draw,
    /// Take the link drawn by hand away.
    Drop,
}

/// How the scene is changed.
#[derive(Message, Debug, Clone, PartialEq)]
pub(crate) enum MakingIntent {
    /// Undo the last step.
    Undo,
    /// Make the step again that was undone last.
    Redo,
    /// Take what is kept out of the scene.
    Remove,
    /// Put a copy of what is kept beside it.
    Duplicate,
    /// Add the mirror image of what is kept, across an axis.
    Mirror(usize),
    /// Give the shape that is kept one bend, corner or hole more or less.
    Reshape(Reshaping),
    /// Let go of what is kept, and of what is to be placed.
    LetGo,
    /// Put this where the next click is.
    Place(Addition),
    /// Begin to type into a field of the sentence.
    Edit(Field),
    /// What has been typed so far.
    Type(String),
    /// Make the change that was typed.
    Enter,
    /// Make this change.
    Take(Box<Proposal>),
    /// Make the link on trial a support of the scene.
    KeepLink,
    /// Begin a new scene.
    New(NewScene),
    /// Save the scene to its file.
    Save,
    /// Save the scene to this file.
    SaveAs(PathBuf),
    /// Ask the system for a file.
    AskForFile(FilePurpose),
    /// Go on with what another program wrote to the file.
    TakeTheirs,
    /// Go on with the scene as it is, whatever another program wrote to the file.
    KeepMine,
    /// Go on with work that was left behind.
    TakeUp,
    /// Throw away work that was left behind.
    ThrowAway,
}

/// What a file is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FilePurpose {
    /// To open it.
    Open,
    /// To save the scene in it.
    Save,
}

/// How a scene is unveiled to a class.
#[derive(Message, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LessonIntent {
    /// Begin to unveil the scene, or show all of it again.
    Unveil,
    /// The class's guess of the freedom.
    Guess(usize),
}

/// What is taken home.
#[derive(Message, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum HandoutIntent {
    /// Make this.
    Make(Handout),
    /// Copy a web address that brings the scene along.
    CopyLink,
    /// Stop making what has this place in the list.
    Stop(usize),
}

/// The questions to a student.
#[derive(Message, Debug, Clone, PartialEq)]
pub(crate) enum PracticeIntent {
    /// Begin to ask about the scene, or no longer.
    Switch,
    /// What has been typed so far.
    Type(String),
    /// The answer to the question that is shown.
    Answer(Answer),
    /// The next question, once this one is answered.
    GoOn,
}

/// The picture in front of a class; each is on until it is asked for again.
#[derive(Message, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LectureIntent {
    /// A large disc around the pointer.
    Disc,
    /// A blank wall.
    Blank,
    /// A slow turn.
    Turn,
}

/// From where the scene is seen.
#[derive(Message, Debug, Clone, Copy, PartialEq)]
pub(crate) enum CameraIntent {
    /// Look from here.
    Look(View),
    /// Look from the next of the standard views, or the one before.
    StepView(StepDirection),
    /// Bring everything into view without turning.
    Fit,
    /// Turn the camera by these degrees: azimuth and elevation.
    Turn(f32, f32),
    /// Change between perspective and parallel projection.
    SwitchLens,
}

/// How everything looks.
#[derive(Message, Debug, Clone, Copy, PartialEq)]
pub(crate) enum LookIntent {
    /// Use this theme.
    Theme(ThemeName),
    /// Show or hide a layer of the picture.
    Layer(Layer, bool),
    /// Change the layer to what it is not.
    ToggleLayer(Layer),
    /// Keep still: no camera flights, and the body rests.
    ReducedMotion(bool),
    /// Larger (above 1) or smaller text.
    Enlarge(f32),
    /// Text at its usual size.
    UsualSize,
    /// Fill the screen, or no longer.
    FullScreen,
}

/// Which panels are open.
#[derive(Message, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum PanelIntent {
    /// Open or close a panel.
    Toggle(Panel),
}

/// Close whatever is open.
#[derive(Message, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct CloseAll;

/// Makes all messages known to an app.
pub(crate) fn add_messages(app: &mut App) {
    app.add_message::<PlaybackIntent>()
        .add_message::<SceneIntent>()
        .add_message::<StudyIntent>()
        .add_message::<LinkIntent>()
        .add_message::<MakingIntent>()
        .add_message::<LessonIntent>()
        .add_message::<HandoutIntent>()
        .add_message::<PracticeIntent>()
        .add_message::<LectureIntent>()
        .add_message::<CameraIntent>()
        .add_message::<LookIntent>()
        .add_message::<PanelIntent>()
        .add_message::<CloseAll>();
}

/// Passes intents on to their owners.
#[derive(SystemParam)]
pub(crate) struct Intents<'w> {
    playback: MessageWriter<'w, PlaybackIntent>,
    scene: MessageWriter<'w, SceneIntent>,
    study: MessageWriter<'w, StudyIntent>,
    link: MessageWriter<'w, LinkIntent>,
    making: MessageWriter<'w, MakingIntent>,
    lesson: MessageWriter<'w, LessonIntent>,
    handout: MessageWriter<'w, HandoutIntent>,
    practice: MessageWriter<'w, PracticeIntent>,
    lectern: MessageWriter<'w, LectureIntent>,
    camera: MessageWriter<'w, CameraIntent>,
    look: MessageWriter<'w, LookIntent>,
    panel: MessageWriter<'w, PanelIntent>,
    close: MessageWriter<'w, CloseAll>,
}

impl Intents<'_> {
    /// Passes one on.
    pub(crate) fn send(&mut self, intent: Intent) {
        match intent {
            Intent::Playback(intent) => {
                self.playback.write(intent);
            }
            Intent::Scene(intent) => {
                self.scene.write(intent);
            }
            Intent::Study(intent) => {
                self.study.write(intent);
            }
            Intent::Link(intent) => {
                self.link.write(intent);
            }
            Intent::Making(intent) => {
                self.making.write(intent);
            }
            Intent::Lesson(intent) => {
                self.lesson.write(intent);
            }
            Intent::Handout(intent) => {
                self.handout.write(intent);
            }
            Intent::Practice(intent) => {
                self.practice.write(intent);
            }
            Intent::Lectern(intent) => {
                self.lectern.write(intent);
            }
            Intent::Camera(intent) => {
                self.camera.write(intent);
            }
            Intent::Look(intent) => {
                self.look.write(intent);
            }
            Intent::Panel(intent) => {
                self.panel.write(intent);
            }
            Intent::CloseAll => {
                self.close.write(CloseAll);
            }
        }
    }
}

/// What was asked for in this frame and the last.
#[derive(SystemParam)]
pub(crate) struct RecentIntents<'w> {
    playback: Res<'w, Messages<PlaybackIntent>>,
    scene: Res<'w, Messages<SceneIntent>>,
    study: Res<'w, Messages<StudyIntent>>,
    link: Res<'w, Messages<LinkIntent>>,
    making: Res<'w, Messages<MakingIntent>>,
    lesson: Res<'w, Messages<LessonIntent>>,
    handout: Res<'w, Messages<HandoutIntent>>,
    practice: Res<'w, Messages<PracticeIntent>>,
    lectern: Res<'w, Messages<LectureIntent>>,
    camera: Res<'w, Messages<CameraIntent>>,
    look: Res<'w, Messages<LookIntent>>,
    panel: Res<'w, Messages<PanelIntent>>,
    close: Res<'w, Messages<CloseAll>>,
}

impl RecentIntents<'_> {
    /// Whether nothing was.
    pub(crate) fn is_empty(&self) -> bool {
        self.playback.is_empty()
            && self.scene.is_empty()
            && self.study.is_empty()
            && self.link.is_empty()
            && self.making.is_empty()
            && self.lesson.is_empty()
            && self.handout.is_empty()
            && self.practice.is_empty()
            && self.lectern.is_empty()
            && self.camera.is_empty()
            && self.look.is_empty()
            && self.panel.is_empty()
            && self.close.is_empty()
    }
}

/// Forwards or back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StepDirection {
    /// To the next.
    On,
    /// To the one before.
    Back,
}

impl StepDirection {
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
    /// Supports, which reactions stand in for in a free-body picture.
    Supports,
    /// Reactions and their names.
    Reactions,
    /// The values of reactions beside their names.
    Values,
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
    /// What can be added.
    Add,
    /// What can be taken home.
    Handouts,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stepping_goes_round() {
        assert_eq!(StepDirection::On.around(2, 3), 0);
        assert_eq!(StepDirection::Back.around(0, 3), 2);
        assert_eq!(StepDirection::Back.around(0, 0), 0);
    }
}
