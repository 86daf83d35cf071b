//! Opening a scene by its name: a file, a built-in scene, the address of one, or standard input.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use thiserror::Error;

use super::Study;
use crate::address::{AddressError, AddressedScene, SceneAddress};
use crate::scene::{self, Loaded, ReadError, builtin};
use crate::statics::ModelError;

/// Where a scene comes from.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Source {
    /// A built-in scene, by name.
    BuiltIn(&'static str),
    /// A file.
    File(PathBuf),
    /// Standard input.
    Input,
    /// The text that a web address brings.
    Address(Arc<str>),
}

/// Why a scene cannot be studied.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum OpenError {
    /// No file and no built-in scene has this name.
    #[error("there is no file and no built-in scene named \"{name}\"")]
    Unknown {
        /// The name.
        name: String,
        /// The built-in scene whose name is nearest to it.
        nearest: Option<&'static str>,
    },
    /// A web address that gives no scene.
    #[error(transparent)]
    Address(#[from] AddressError),
    /// The text is no whole scene.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// The scene cannot be made into a model.
    #[error("{name}: {error}")]
    Model {
        /// The name of the scene.
        name: String,
        /// What it lacks.
        error: ModelError,
    },
}

impl OpenError {
    /// No scene has this name, but a built-in one may have one like it.
    pub fn unknown(name: &str) -> Self {
        Self::Unknown {
            name: name.to_owned(),
            nearest: scene::nearest(name, builtin::names()),
        }
    }
}

/// What a scene from a web address is called.
const ADDRESS: &str = "web address";
/// Ending of scene files.
const ENDING: &str = "ron";

impl Source {
    /// What a name means: `-` standard input, else the scene of a web address, else a file, else a built-in scene.
    ///
    /// # Errors
    /// [`OpenError::Address`] for an address that gives no scene; [`OpenError::Unknown`] where there is neither file nor scene. What looks like a path is taken for one, since the reader says best
    /// what is wrong with it.
    pub fn named(name: &str) -> Result<Self, OpenError> {
        if name == "-" {
            return Ok(Self::Input);
        }
        let path = Path::new(name);
        if SceneAddress::is_address(name) && !path.exists() {
            return Ok(SceneAddress::read(name)?.scene.into());
        }
        if path.exists() {
            return Ok(Self::File(path.to_owned()));
        }
        if let Some(found) = builtin::find(name) {
            return Ok(Self::BuiltIn(found.name));
        }
        if path.extension().is_some() || path.components().count() != 1 {
            return Ok(Self::File(path.to_owned()));
        }
        Err(OpenError::unknown(name))
    }

    /// The built-in scene of a name.
    ///
    /// # Errors
    /// [`OpenError::Unknown`] where there is none.
    pub fn built_in(name: &str) -> Result<Self, OpenError> {
        let found = builtin::find(name).ok_or_else(|| OpenError::unknown(name))?;
        Ok(Self::BuiltIn(found.name))
    }

    /// The scene files of a folder, those whose names end in `.ron`, by name.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn in_folder(folder: &Path) -> io::Result<Vec<Self>> {
        let mut files = Vec::new();
        for file in std::fs::read_dir(folder)? {
            let path = file?.path();
            if path.extension().is_some_and(|ending| ending == ENDING) {
                files.push(path);
            }
        }
        files.sort();
        Ok(files.into_iter().map(Self::File).collect())
    }

    /// The name by which it is asked for.
    pub fn name(&self) -> String {
        match self {
            Self::BuiltIn(name) => (*name).to_owned(),
            Self::File(path) => path.display().to_string(),
            Self::Input => scene::INPUT.to_owned(),
            Self::Address(_) => ADDRESS.to_owned(),
        }
    }

    /// The text of the scene; `None` where it cannot be read, or read again.
    pub fn text(&self) -> Option<String> {
        match self {
            Self::BuiltIn(name) => builtin::find(name).map(|found| found.text.to_owned()),
            Self::File(path) => std::fs::read_to_string(path).ok(),
            Self::Input => None,
            Self::Address(text) => Some(text.to_string()),
        }
    }

    /// Reads the scene without studying it.
    ///
    /// # Errors
    /// A [`ReadError`] where it cannot be read or is not whole.
    pub fn load(&self) -> Result<Loaded, ReadError> {
        match self {
            Self::BuiltIn(name) => {
                let text = builtin::find(name).map_or("", |found| found.text);
                scene::read_str(name, text)
            }
            Self::File(path) => scene::read_file(path),
            Self::Input => scene::read_input(),
            Self::Address(text) => scene::read_str(ADDRESS, text),
        }
    }
}

impl From<AddressedScene> for Source {
    fn from(scene: AddressedScene) -> Self {
        match scene {
            AddressedScene::BuiltIn(name) => Self::BuiltIn(name),
            AddressedScene::Text(text) => Self::Address(text.into()),
        }
    }
}

impl Study {
    /// Opens a scene by name: a file goes before a built-in scene, `-` is standard input, and the address of a page with a scene
    /// after its `#` is that scene.
    ///
    /// ```
    /// let study = sixhold::study::Study::open("handrail")?;
    /// assert_eq!(study.diagnosis().counts.freedom, 1);
    /// # Ok::<(), sixhold::study::OpenError>(())
    /// ```
    ///
    /// # Errors
    /// An [`OpenError`] where there is no such scene, or it is not whole.
    pub fn open(name: &str) -> Result<Self, OpenError> {
        Self::read(Source::named(name)?)
    }

    /// The same scene, kept somewhere else.
    pub fn kept_in(self, source: Source) -> Self {
        Self {
            name: source.name(),
            source: Some(source),
            ..self
        }
    }

    /// The scene as an address gives it: a built-in one by its name, any other by its text as it was written.
    pub fn addressed(&self) -> AddressedScene {
        match self.source() {
            Some(Source::BuiltIn(name)) => AddressedScene::BuiltIn(name),
            source => {
                let written = source.and_then(Source::text);
                AddressedScene::Text(written.unwrap_or_else(|| scene::to_ron(self.scene())))
            }
        }
    }

    /// Reads a scene from where it comes from.
    ///
    /// # Errors
    /// An [`OpenError`] where it cannot be read or is not whole.
    pub fn read(source: Source) -> Result<Self, OpenError> {
        let loaded = source.load()?;
        let name = source.name();
        let study = Self::new(loaded.scene).map_err(|error| OpenError::Model {
            name: name.clone(),
            error,
        })?;
        Ok(Self {
            name,
            source: Some(source),
            warnings: loaded.warnings.into(),
            ..study
        })
    }
}
