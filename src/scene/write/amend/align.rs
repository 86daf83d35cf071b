//! Which entries of one list are those of another.

/// A measure of sameness.
type Same<'f, T> = &'f dyn Fn(&T, &T) -> bool;

/// Pairs of indices `(old, new)` that ascend in both, where `old[i]` and `new[j]` are the same entry by any of some measures of
/// sameness, the strictest first; entries that none of them knows again are paired in order, as far as both have some left
/// between two pairs.
pub(super) fn aligned<T>(old: &[T], new: &[T], same: &[Same<'_, T>]) -> Vec<(usize, usize)> {
    let mut pairs = Vec::new();
    align(old, new, (0, 0), same, &mut pairs);
    pairs
}

fn align<T>(
    old: &[T],
    new: &[T],
    from: (usize, usize),
    same: &[Same<'_, T>],
    pairs: &mut Vec<(usize, usize)>,
) {
    let Some((strictest, others)) = same.split_first() else {
        let both = old.len().min(new.len());
        return pairs.extend((0..both).map(|i| (from.0 + i, from.1 + i)));
    };
    let mut at = (0, 0);
    let end = (old.len(), new.len());
    for (i, j) in common(old, new, strictest).into_iter().chain([end]) {
        let offset = (from.0 + at.0, from.1 + at.1);
        align(&old[at.0..i], &new[at.1..j], offset, others, pairs);
        if (i, j) != end {
            pairs.push((from.0 + i, from.1 + j));
            at = (i + 1, j + 1);
        }
    }
}

/// A longest common subsequence; beyond [`MOST_COMPARED`], after the common ends, none is sought in the middle.
fn common<T>(old: &[T], new: &[T], same: Same<'_, T>) -> Vec<(usize, usize)> {
    let both = old.len().min(new.len());
    let head = (0..both).take_while(|i| same(&old[*i], &new[*i])).count();
    let from_end = |i: usize| (old.len() - 1 - i, new.len() - 1 - i);
    let tail = (0..both - head).take_while(|i| {
        let (i, j) = from_end(*i);
        same(&old[i], &new[j])
    });
    let tail = tail.count();
    let middle = (&old[head..old.len() - tail], &new[head..new.len() - tail]);
    let ascending = |i: usize| from_end(tail - 1 - i);
    (0..head)
        .map(|i| (i, i))
        .chain(
            longest(middle.0, middle.1, same)
                .into_iter()
                .map(|(i, j)| (head + i, head + j)),
        )
        .chain((0..tail).map(ascending))
        .collect()
}

/// Comparisons of a table that is still made at once while someone waits for a file to be saved.
const MOST_COMPARED: usize = 1_000_000;

/// A longest common subsequence by the usual table.
fn longest<T>(old: &[T], new: &[T], same: Same<'_, T>) -> Vec<(usize, usize)> {
    if old.len().saturating_mul(new.len()) > MOST_COMPARED {
        return Vec::new();
    }
    // Lengths from (i, j) to both ends.
    let mut lengths = vec![vec![0_u32; new.len() + 1]; old.len() + 1];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            lengths[i][j] = match same(&old[i], &new[j]) {
                true => lengths[i + 1][j + 1] + 1,
                false => lengths[i + 1][j].max(lengths[i][j + 1]),
            };
        }
    }
    let (mut i, mut j) = (0, 0);
    let mut pairs = Vec::new();
    while i < old.len() && j < new.len() {
        if same(&old[i], &new[j]) {
            pairs.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if lengths[i + 1][j] >= lengths[i][j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pairs(old: &str, new: &str) -> Vec<(usize, usize)> {
        let (old, new): (Vec<char>, Vec<char>) = (old.chars().collect(), new.chars().collect());
        let letter = |a: &char, b: &char| a.eq_ignore_ascii_case(b);
        aligned(&old, &new, &[&|a, b| a == b, &letter])
    }

    #[test]
    fn equal_entries_are_paired_then_those_known_again_then_the_rest_in_order() {
        assert_eq!(pairs("abc", "abc"), [(0, 0), (1, 1), (2, 2)]);
        assert_eq!(pairs("abc", "ac"), [(0, 0), (2, 1)]);
        assert_eq!(pairs("ac", "abc"), [(0, 0), (1, 2)]);
        assert_eq!(pairs("abc", "aBc"), [(0, 0), (1, 1), (2, 2)]);
        // The capital is known again, so the new letter in front of it has no partner.
        assert_eq!(pairs("abc", "axBc"), [(0, 0), (1, 2), (2, 3)]);
        assert_eq!(pairs("abc", "xyz"), [(0, 0), (1, 1), (2, 2)]);
        assert_eq!(pairs("", "xyz"), []);
        assert_eq!(pairs("ab", "ba"), [(1, 0)]);
    }
}
