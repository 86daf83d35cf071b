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

/// Names that are told before the rest is only counted.
const MOST_NAMES: usize = 12;

/// A list of names, cut short where nobody would read it to its end: `A, B, C and 40 more`.
pub fn listed_briefly(names: &[&str]) -> String {
    if names.len() <= MOST_NAMES {
        return listed(names);
    }
    let told = MOST_NAMES - 2;
    let rest = format!("{} more", count(names.len() - told));
    let mut short: Vec<&str> = names[..told].to_vec();
    short.push(&rest);
    listed(&short)
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
        assert_eq!(listed_briefly(&["A"; 12]).matches('A').count(), 12);
        assert!(listed_briefly(&["A"; 50]).ends_with("A, A and 40 more"));
        assert_eq!(counted(1, "reaction"), "one reaction");
        assert_eq!(counted(6, "reaction"), "six reactions");
        assert_eq!(count(40), "40");
        assert_eq!(capitalised("élan"), "Élan");
    }
}
