//! Sixhold answers one question for a rigid body on supports: is it held, and if not, how does it move?
//!
//! A body in space has six motions to stop, in the plane three. Each reaction is one unknown of the equations of
//! equilibrium; the rank of their matrix says how many motions are stopped, what is left over says how the body still
//! moves, and the geometry of the reactions says why.
//!
//! # From text to answers
//!
//! ```text
//! text → scene::Scene → study::Study → wording (sentences), solution (worked equations), portrayal (what is drawn)
//!                                    → report, figure, exercises, viewer (outputs)
//! ```
//!
//! A [`scene`] is what a user writes. A [`study::Study`] of it knows everything else: the model in SI units and the
//! [`statics::Diagnosis`] are there from the start; objects of the reason, redundant groups, margins, one-way supports,
//! finite motions and repairs are computed when first asked for, once.
//!
//! ```
//! use sixhold::study::Study;
//! use sixhold::wording;
//!
//! let study = Study::open("handrail")?;
//! let (model, diagnosis) = (study.model(), study.diagnosis());
//! assert_eq!((diagnosis.counts.unknowns, diagnosis.counts.rank), (6, 5));
//! assert_eq!(
//!     wording::headline(model, diagnosis, study.uncarried()),
//!     "Not held: improperly constrained, redundant."
//! );
//! // One link holds it.
//! let repaired = study.repaired().expect("a link that holds it");
//! assert!(repaired.diagnosis().is_held());
//! # Ok::<(), sixhold::study::OpenError>(())
//! ```
//!
//! Reactions come in newtons and newton metres, in the order of the model:
//!
//! ```
//! use sixhold::{scene, statics::CaseIndex, study::Study};
//!
//! let text = r#"(format: 1, space: planar,
//!     body: [Shaft(from: (0, 0), to: (4, 0), diameter: 0.1)],
//!     supports: [Pin(name: "A", at: (0, 0)), Roller(name: "B", at: (4, 0), normal: (0, 1))],
//!     loads: [Force(at: (1, 0), force: (0, -100))])"#;
//! let study = Study::new(scene::read_str("beam", text)?.scene)?;
//! let names = study.model().reactions.iter().map(|reaction| reaction.name.as_str());
//! let values = study.diagnosis().cases[CaseIndex::FIRST].values.iter();
//! for ((name, value), expected) in names.zip(values).zip([("A_x", 0.0), ("A_y", 75.0), ("N_B", 25.0)]) {
//!     assert_eq!(name, expected.0);
//!     assert!((value.expect("statically determinate") - expected.1).abs() < 1e-9);
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # Conventions
//!
//! Right-handed axes, z up in space, x right and y up in the plane; SI units inside, the scene's own at the edges. A wrench
//! is `(f; m)` about the model's reference point, a twist `(v; w)` with `v` the velocity of the body point there; their power
//! is `f·v + m·w`. Forces and couples are those that act on the body: a surface pushes, a cable pulls towards its ground end.
//!
//! # Features
//!
//! Without default features this is the computation with its sentences, on nalgebra, serde and ron. `paper` adds figures,
//! reports and exercises, `cli` the program, `viewer` the window, `films` MP4 files.

pub mod address;
#[cfg(feature = "cli")]
pub mod cli;
pub mod design;
#[cfg(feature = "paper")]
pub mod document;
pub mod draft;
#[cfg(feature = "paper")]
pub mod drawing;
pub mod elastic;
#[cfg(feature = "cli")]
pub mod exchange;
#[cfg(feature = "paper")]
pub mod exercises;
#[cfg(feature = "paper")]
pub mod figure;
pub mod files;
#[cfg(feature = "paper")]
pub(crate) mod fonts;
pub mod indexed;
pub mod motion;
#[cfg(feature = "paper")]
pub mod page;
#[cfg(feature = "paper")]
pub mod portrayal;
pub mod practice;
pub mod printable;
pub mod repair;
#[cfg(feature = "paper")]
pub mod report;
pub mod scene;
#[cfg(feature = "paper")]
pub mod solution;
pub mod statics;
#[cfg(feature = "cli")]
mod steps;
pub mod study;
#[cfg(feature = "cli")]
pub mod sweep;
#[cfg(test)]
mod testing;
#[cfg(feature = "paper")]
pub mod theme;
#[cfg(feature = "window")]
#[cfg_attr(
    not(feature = "viewer"),
    expect(
        dead_code,
        unused_imports,
        reason = "a page makes no pictures by the program"
    )
)]
pub mod viewer;
pub mod wording;
#[cfg(feature = "paper")]
pub mod worksheet;
