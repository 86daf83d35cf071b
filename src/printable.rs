//! What of a text can be shown: everything else is printed as an escape, and left out of XML.
//!
//! A character that steers a terminal, or the order in which letters are shown, would let a title or a file name say
//! something else than it holds.

use std::borrow::Cow;
use std::path::Path;

/// Whether a character stands for itself wherever it is shown. Others are control characters, those that turn the
/// direction of what follows (Unicode Standard Annex 9), line separators, and code points that stand for no character.
pub fn is_printable(character: char) -> bool {
    let turns = matches!(character, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}');
    let separates = matches!(character, '\u{2028}' | '\u{2029}' | '\u{FEFF}');
    !(character.is_control() || turns || separates || is_noncharacter(character))
}

/// Whether a code point stands for no character, and never will.
fn is_noncharacter(character: char) -> bool {
    let code = u32::from(character);
    matches!(code, 0xFDD0..=0xFDEF) || code & 0xFFFE == 0xFFFE
}

/// The text with an escape such as `\u{1b}` for everything that is not printable, line breaks included.
pub fn printable(text: &str) -> Cow<'_, str> {
    if text.chars().all(is_printable) {
        return text.into();
    }
    let mut shown = String::with_capacity(text.len());
    for character in text.chars() {
        match is_printable(character) {
            true => shown.push(character),
            false => shown.extend(escape(character)),
        }
    }
    shown.into()
}

/// The escape that scene files, too, write for a character.
pub fn escape(character: char) -> impl Iterator<Item = char> {
    // Not every unprintable character has an escape of its own in the standard library.
    let short = matches!(character, '\n' | '\r' | '\t').then(|| character.escape_default());
    let long = short.is_none().then(|| character.escape_unicode());
    short
        .into_iter()
        .flatten()
        .chain(long.into_iter().flatten())
}

/// A path as messages show it: on one line, printable.
pub fn shown(path: &Path) -> String {
    printable(&path.to_string_lossy()).into_owned()
}

/// The text with U+FFFD in place of what XML 1.0 (section 2.2) and HTML forbid. Tabs and line breaks stay.
pub fn for_xml(text: &str) -> Cow<'_, str> {
    let allowed =
        |c: char| matches!(c, '\t' | '\n' | '\r') || !(c.is_control() || is_noncharacter(c));
    if text.chars().all(allowed) {
        return text.into();
    }
    let replaced = text
        .chars()
        .map(|c| if allowed(c) { c } else { '\u{FFFD}' });
    replaced.collect::<String>().into()
}

/// JSON text with JSON's own escapes for what is not printable, which it lets through beyond ASCII.
pub fn for_json(text: &str) -> Cow<'_, str> {
    let is_plain = |c: char| c == '\n' || is_printable(c);
    if text.chars().all(is_plain) {
        return text.into();
    }
    let mut escaped = String::with_capacity(text.len());
    for character in text.chars() {
        match is_plain(character) {
            true => escaped.push(character),
            false => {
                for unit in character.encode_utf16(&mut [0; 2]) {
                    escaped += &format!("\\u{unit:04x}");
                }
            }
        }
    }
    escaped.into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_a_terminal_or_the_order_of_letters_is_escaped() {
        assert_eq!(printable("T\u{1b}]0;x\u{7}"), "T\\u{1b}]0;x\\u{7}");
        assert_eq!(printable("a\nb\tc\u{9b}"), "a\\nb\\tc\\u{9b}");
        assert_eq!(printable("x\u{202e}nor\u{fffe}"), "x\\u{202e}nor\\u{fffe}");
    }

    #[test]
    fn letters_of_every_script_stay() {
        for text in ["Träger", "梁の支点", "قوة", "θ₁ → 30°", "\u{200d}\u{200f}"] {
            assert!(matches!(printable(text), Cow::Borrowed(_)), "{text}");
            assert!(matches!(for_xml(text), Cow::Borrowed(_)), "{text}");
        }
    }

    #[test]
    fn json_says_the_same_with_escapes() {
        let text = "a\u{9b}\u{202e}\u{1fffe}b";
        let quoted = serde_json::to_string(text).unwrap();
        let escaped = for_json(&quoted);
        assert_eq!(escaped, "\"a\\u009b\\u202e\\ud83f\\udffeb\"");
        assert_eq!(serde_json::from_str::<String>(&escaped).unwrap(), text);
    }

    #[test]
    fn xml_keeps_line_breaks_and_loses_what_it_forbids() {
        assert_eq!(
            for_xml("a\n\u{1}b\u{fffe}\u{ffff}\u{1b}"),
            "a\n\u{fffd}b\u{fffd}\u{fffd}\u{fffd}"
        );
    }
}
