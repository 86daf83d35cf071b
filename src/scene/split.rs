//! Cuts the inside of a bracket into its parts, for text that the `ron` crate has already accepted; and any text into
//! tokens, to find out why the crate has refused it.
//!
//! The crate tells no places, and asking it for the slices of one level after another reads a large scene twelve times
//! over. In accepted text, finding commas and colons takes no more than stepping over texts, characters and comments.

/// One value between two commas, and what stands before its colon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SplitPart<'t> {
    /// Field name or map key, without white space and comments around it.
    pub key: Option<&'t str>,
    /// The value, likewise.
    pub value: &'t str,
}

/// The parts of a text between two brackets.
pub(crate) fn parts(text: &str) -> Vec<SplitPart<'_>> {
    let mut parts = Vec::new();
    let mut cutter = Cutter::default();
    for token in tokens(text) {
        cutter.take(text, token, &mut parts);
    }
    cutter.cut(text, &mut parts);
    parts
}

/// The tokens of a text one after the other, also of one that the crate has refused.
pub(crate) fn tokens(text: &str) -> impl Iterator<Item = Token> {
    let mut at = 0;
    std::iter::from_fn(move || {
        let SplitStep { sort, length } = step(&text[at..])?;
        let start = at;
        at += length;
        let end = at;
        Some(Token { sort, start, end })
    })
}

/// A token, or a piece of one that holds no comma, colon or bracket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Token {
    /// Sort.
    pub sort: Sort,
    /// Byte offset of its first byte.
    pub start: usize,
    /// Byte offset after its last byte.
    pub end: usize,
}

/// A text without the white space and comments in front.
pub(crate) fn skip_space(mut text: &str) -> &str {
    while let Some(SplitStep {
        sort: Sort::Space,
        length,
    }) = step(text)
    {
        text = &text[length..];
    }
    text
}

#[derive(Default)]
struct Cutter<'t> {
    depth: usize,
    key: Option<&'t str>,
    /// First token of the piece so far, and end of the last one.
    piece: Option<(usize, usize)>,
}

impl<'t> Cutter<'t> {
    fn take(&mut self, text: &'t str, token: Token, parts: &mut Vec<SplitPart<'t>>) {
        let Token { sort, start, end } = token;
        match sort {
            Sort::Space => return,
            Sort::Comma if self.depth == 0 => return self.cut(text, parts),
            Sort::Colon if self.depth == 0 => {
                self.key = self.piece.take().map(|(start, end)| &text[start..end]);
                return;
            }
            Sort::Open => self.depth += 1,
            Sort::Close => self.depth = self.depth.saturating_sub(1),
            Sort::Comma | Sort::Colon | Sort::Other => {}
        }
        let first = self.piece.map_or(start, |(first, _)| first);
        self.piece = Some((first, end));
    }

    fn cut(&mut self, text: &'t str, parts: &mut Vec<SplitPart<'t>>) {
        let key = self.key.take();
        if let Some((start, end)) = self.piece.take() {
            let value = &text[start..end];
            parts.push(SplitPart { key, value });
        }
    }
}

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sort {
    /// White space or a comment.
    Space,
    /// `,`
    Comma,
    /// `:`
    Colon,
    /// `(`, `[` or `{`
    Open,
    /// `)`, `]` or `}`
    Close,
    /// Text, a word, a number or part of one of these.
    Other,
}

struct SplitStep {
    sort: Sort,
    length: usize,
}

/// The first token of a text, or a piece of one that holds no comma, colon or bracket.
fn step(text: &str) -> Option<SplitStep> {
    let bytes = text.as_bytes();
    let (sort, length) = match *bytes.first()? {
        b',' => (Sort::Comma, 1),
        b':' => (Sort::Colon, 1),
        b'(' | b'[' | b'{' => (Sort::Open, 1),
        b')' | b']' | b'}' => (Sort::Close, 1),
        b'"' => (Sort::Other, quoted(bytes)),
        b'\'' => (Sort::Other, character(text)),
        b'r' => (Sort::Other, raw(text).unwrap_or(1)),
        b'/' => (Sort::Space, comment(text)),
        byte if is_space(byte) => (Sort::Space, run(bytes, is_space)),
        byte if byte.is_ascii() => (Sort::Other, run(bytes, is_plain).max(1)),
        _ => {
            let character = text.chars().next()?;
            // The white space beyond ASCII that the crate skips.
            let is_space = matches!(
                character,
                '\u{85}' | '\u{200e}' | '\u{200f}' | '\u{2028}' | '\u{2029}'
            );
            (
                if is_space { Sort::Space } else { Sort::Other },
                character.len_utf8(),
            )
        }
    };
    Some(SplitStep { sort, length })
}

fn is_space(byte: u8) -> bool {
    matches!(byte, b' ' | b'\t'..=b'\r')
}

/// What stands in words and numbers, but for the `r` that may begin a raw text.
fn is_plain(byte: u8) -> bool {
    byte != b'r' && (byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'-' | b'_'))
}

fn run(bytes: &[u8], belongs: impl Fn(u8) -> bool) -> usize {
    let end = bytes.iter().position(|byte| !belongs(*byte));
    end.unwrap_or(bytes.len())
}

/// Length of a text in quotes.
fn quoted(bytes: &[u8]) -> usize {
    let mut at = 1;
    while at < bytes.len() {
        match bytes[at] {
            b'"' => return at + 1,
            // Whatever is escaped, its first byte does not end the text.
            b'\\' => at += 2,
            _ => at += 1,
        }
    }
    bytes.len()
}

/// Length of a raw text `r#"…"#`, if that begins here.
fn raw(text: &str) -> Option<usize> {
    let hashes = text[1..].bytes().take_while(|byte| *byte == b'#').count();
    let inside = text[1 + hashes..].strip_prefix('"')?;
    let end = format!("\"{}", "#".repeat(hashes));
    let length = inside.find(&end).map(|length| length + end.len());
    Some(2 + hashes + length.unwrap_or(inside.len()))
}

/// Length of a character in quotes.
fn character(text: &str) -> usize {
    let inside = &text[1..];
    let first = inside.chars().next().map_or(0, char::len_utf8);
    let escaped = usize::from(inside.starts_with('\\'));
    // A quote may itself be the character.
    let skipped = 1 + first + escaped;
    let closing = text.get(skipped..).and_then(|rest| rest.find('\''));
    closing.map_or(text.len(), |closing| skipped + closing + 1)
}

/// Length of a comment.
fn comment(text: &str) -> usize {
    if !text.starts_with("/*") {
        return text.find('\n').unwrap_or(text.len());
    }
    let bytes = text.as_bytes();
    let (mut depth, mut at) = (0_usize, 0);
    while at + 1 < bytes.len() {
        match &bytes[at..at + 2] {
            b"/*" => depth += 1,
            b"*/" => depth -= 1,
            _ => {
                at += 1;
                continue;
            }
        }
        at += 2;
        if depth == 0 {
            return at;
        }
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use ron::value::RawValue;

    use super::*;

    fn values(text: &str) -> Vec<&str> {
        parts(text).into_iter().map(|part| part.value).collect()
    }

    #[test]
    fn brackets_texts_and_comments_hide_their_commas() {
        assert_eq!(
            values(" (1, 2) , [3, 4],{5: (6,)} ,"),
            ["(1, 2)", "[3, 4]", "{5: (6,)}"]
        );
        assert_eq!(
            values(r##""a,\",b", r#"c","# , r"\", b"x,""##),
            [r#""a,\",b""#, r##"r#"c","#"##, r#"r"\""#, r#"b"x,""#]
        );
        assert_eq!(
            values(r"',', '\'', ''', 'é', b','"),
            ["','", r"'\''", "'''", "'é'", "b','"]
        );
        assert_eq!(values("1 /* , /* , */ , */, // , :\n 2 // 3"), ["1", "2"]);
        assert_eq!(values(" /* nothing */ "), [""; 0]);
    }

    #[test]
    fn keys_stand_before_their_colon() {
        let part = |key, value| SplitPart {
            key: Some(key),
            value,
        };
        assert_eq!(
            parts("a /* : */ : b(c: d), \"e:\": f"),
            [part("a", "b(c: d)"), part("\"e:\"", "f")]
        );
    }

    /// The parts as the crate itself cuts them.
    fn reference(text: &str) -> Option<Vec<&str>> {
        let raw: Vec<&RawValue> = ron::from_str(text).ok()?;
        Some(raw.into_iter().map(|raw| raw.trim().get_ron()).collect())
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 3000, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn cuts_where_the_crate_cuts(pieces in proptest::collection::vec(prop_oneof![
            Just("1"), Just("-2.5e3"), Just("\"a,\\\"\""), Just("r#\"\"]\"#"), Just("r\"\\\""), Just("'\\''"), Just("','"),
            Just("'\u{e9}'"), Just("b'['"), Just("b\"\\\"],\""), Just("("), Just(")"), Just("["), Just("]"), Just("{"), Just("}"),
            Just(","), Just(":"), Just("a"), Just("r"), Just("r#b"), Just("true"), Just("inf"), Just(" "), Just("\n"), Just("\u{2028}"), Just("\u{85}"),
            Just("/*,[*/"), Just("//]\n"), Just("/*/**/,*/"), Just("\u{e9}"), Just("Some(1)"), Just("A(b: 1, c: \"]\")"), Just("(1, 2)"),
            Just("{1: 2, \"x\": [3]}"), Just("1, "), Just("\"\", "), Just("'\"',"),
        ], 0..12)) {
            let inside = pieces.concat();
            if let Some(reference) = reference(&format!("[{inside}\n]")) {
                prop_assert_eq!(values(&inside), reference, "{}", inside);
            }
        }
    }
}
