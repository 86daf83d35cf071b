//! Sixhold answers one question for a rigid body on supports: is it held, and if not, how does it move?

pub mod scene;
