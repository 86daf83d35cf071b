//! Names, lists and small counts.

/// Splits a reaction's name at its first underscore into what stands on the line and what stands below it.
///
/// `A_x` gives `("A", "x")`, `M_Ax` gives `("M", "Ax")`; a name without underscore has an empty subscript.
pub fn subscripts(name: &str) -> (&str, &str) {
    match name.split_once('_') {
        Some((base, below)) if !base.is_empty() && !below.is_empty() => (base, below),
        _ => (name, ""),
    }
}

/// A count as a word up to twelve, then in digits.
pub fn count(number: usize) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    WORDS
        .get(number)
        .map_or_else(|| number.to_string(), |word| (*word).to_owned())
}

/// `A`, `A and B`, `A, B and C`.
pub fn listed<T: AsRef<str>>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

/// A noun with its count: `one reaction`, `six reactions`.
pub(super) fn counted(number: usize, noun: &str) -> String {
    let ending = if number == 1 { "" } else { "s" };
    format!("{} {noun}{ending}", count(number))
}

/// The sentence with a capital letter in front.
pub(super) fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_split_at_the_first_underscore() {
        assert_eq!(subscripts("A_x"), ("A", "x"));
        assert_eq!(subscripts("M_Ax"), ("M", "Ax"));
        assert_eq!(subscripts("N_left_foot"), ("N", "left_foot"));
        assert_eq!(subscripts("A"), ("A", ""));
        assert_eq!(subscripts("_x"), ("_x", ""));
        assert_eq!(subscripts("A_"), ("A_", ""));
    }

    #[test]
    fn lists_and_counts_read_aloud() {
        assert_eq!(listed::<&str>(&[]), "");
        assert_eq!(listed(&["A"]), "A");
        assert_eq!(listed(&["A", "B", "C"]), "A, B and C");
        assert_eq!(counted(1, "reaction"), "one reaction");
        assert_eq!(counted(6, "reaction"), "six reactions");
        assert_eq!(count(40), "40");
        assert_eq!(capitalised("élan"), "Élan");
    }
}
