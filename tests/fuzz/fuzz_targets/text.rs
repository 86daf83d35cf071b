//! Any text at all: it is read or refused with places, never with a panic; what is read is written back as it was.
#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use sixhold::scene;

fuzz_target!(|text: &str| -> Corpus {
    match scene::read_str("fuzz", text) {
        Ok(loaded) => {
            let written = scene::to_ron(&loaded.scene);
            let again = scene::read_str("fuzz", &written).expect("what is written is read");
            assert_eq!(again.scene, loaded.scene, "{written}");
        }
        Err(error) => {
            let said = error.to_string();
            assert!(!said.trim().is_empty());
            // What the terminal obeys is never passed on.
            assert!(
                said.chars().all(|c| c == '\n' || !c.is_control()),
                "{said:?}"
            );
        }
    }
    Corpus::Keep
});
