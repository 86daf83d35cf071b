//! What can be taken home.

/// One thing to take home.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Handout {
    /// The picture as it is on the wall, so many pixels wide.
    Picture {
        /// Pixels across.
        width: u32,
        /// Nothing behind the scene.
        transparent: bool,
        /// With names and values.
        labels: bool,
    },
    /// The picture as it is on the wall, in the clipboard.
    Copy,
    /// The motion that is shown, as a film.
    Film,
    /// A turn around the scene, as a film.
    Turn,
    /// A line figure for print.
    Figure,
    /// The whole diagnosis.
    Report,
    /// Slides for a browser.
    Slides,
}

impl Handout {
    /// What it is called.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Picture { .. } => "picture",
            Self::Copy => "copy",
            Self::Film => "film",
            Self::Turn => "turn",
            Self::Figure => "figure",
            Self::Report => "report",
            Self::Slides => "slides",
        }
    }

    /// The ending of its file.
    #[cfg(feature = "viewer")]
    pub(super) fn ending(self) -> &'static str {
        match self {
            Self::Picture { .. } | Self::Copy => "png",
            Self::Film | Self::Turn => "gif",
            Self::Figure | Self::Report => "pdf",
            Self::Slides => "html",
        }
    }
}
