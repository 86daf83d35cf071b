//! A scene in the making: edits as values, their history, and what of it is not saved yet.
//!
//! A [`Draft`] holds a scene that can be read back at any moment. A change is made of it as a [`Proposal`], a name with the
//! scene that would come of it; taken up, it becomes a [`HistoryStep`] that can be undone and redone exactly, without limit. Nothing
//! here draws or listens: the window turns drags and typing into proposals.

mod decimal;
pub mod drag;
mod edit;
pub mod entry;
mod history;
mod journal;
mod place;
mod proposal;
mod sentence;
mod sight_line;
pub mod snap;
mod start;
mod turnable;
pub mod turning;

pub use edit::{Edit, EditError};
pub use entry::EntryError;
pub use history::{Draft, HistoryStep, NewsFromDisk, Refusal};
pub use journal::{Journal, LeftBehind, Unsaved};
pub use place::{Handle, LoadId, SceneItem, load_word, shape_word};
pub use proposal::{Proposal, Reshaping, aside, load_kinds, shape_kinds, support_kinds, tenth};
pub use sentence::{Choice, Field, SentencePart, sentence, words};
pub use sight_line::{PixelDistance, SightLine, SightRay};
pub use start::NewScene;
pub use turnable::TurnableDirection;
