//! What the README shows is what the program prints, and every command it names exists.

use crate::command_line::ran;

const README: &str = include_str!("../../README.md");

/// Contents of the fenced blocks of a language.
fn blocks(language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    README
        .split(&fence)
        .skip(1)
        .map(|rest| rest.split("```").next().unwrap())
        .collect()
}

/// Words of a command line; double quotes keep words together.
fn words(line: &str) -> Vec<String> {
    let parts = line.split('"').enumerate();
    parts
        .flat_map(|(index, part)| -> Vec<String> {
            if index % 2 == 1 {
                vec![part.to_owned()]
            } else {
                part.split_whitespace().map(str::to_owned).collect()
            }
        })
        .collect()
}

#[test]
fn shown_output_is_real() {
    let blocks = blocks("console");
    assert!(blocks.len() >= 2);
    for block in blocks {
        let (command, shown) = block.split_once('\n').unwrap();
        let words = words(command.strip_prefix("$ sixhold ").unwrap());
        let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
        let ran = ran(&arguments);
        assert_eq!(ran.code, Some(0), "{command}: {}", ran.err);
        assert_eq!(shown, ran.out, "{command}");
    }
}

/// Whether a word of a command names a file that it writes.
fn is_output(word: &str) -> bool {
    let endings = [
        ".png", ".svg", ".pdf", ".gif", ".mp4", ".html", ".glb", ".csv",
    ];
    endings.iter().any(|ending| word.ends_with(ending))
        || ["mended.ron", "exercises", "near-misses"].contains(&word)
}

/// Commands on files that only a reader has are run on a built-in scene instead.
#[test]
fn every_command_exists() {
    let folder = tempfile::tempdir().unwrap();
    let mut tried = 0;
    for line in blocks("sh").iter().flat_map(|block| block.lines()) {
        let line = line
            .split(" #")
            .next()
            .unwrap()
            .split(" > ")
            .next()
            .unwrap();
        // Without a command the window would open or a picture be drawn.
        let Some(line) = line
            .strip_prefix("sixhold ")
            .filter(|line| !line.trim().is_empty())
        else {
            continue;
        };
        let own = |word: String| match word.as_str() {
            "bracket.ron" | "*.ron" => "camera-bracket".to_owned(),
            name if is_output(name) => folder.path().join(name).display().to_string(),
            _ => word,
        };
        let mut words: Vec<String> = words(line).into_iter().map(own).collect();
        let needs_driver =
            words[0] == "picture" || words[0] == "view" || line.contains("--view 3d");
        if needs_driver {
            // Whether the arguments parse is asked here; drawing is tested elsewhere.
            words.push("--help".to_owned());
        } else if words[0] == "animate" {
            // One second shows as well as six that the command is right.
            words.extend(["--seconds".to_owned(), "1".to_owned()]);
        }
        let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
        let ran = ran(&arguments);
        assert_eq!(ran.code, Some(0), "{line}: {}", ran.err);
        tried += 1;
    }
    assert!(tried >= 6, "{tried}");
}
