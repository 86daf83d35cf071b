//! The code words of CAVLC: ITU-T H.264, tables 9-5 and 9-7 to 9-10, and of coded_block_pattern, table 9-4.
//!
//! From memory; that each set of words is complete and none begins another is tested, and independent decoders agree.

/// A code word: how many bits, and their value.
pub(super) type Word = (u8, u8);

/// Words for 0 to 16 numbers (rows) of which 0 to 3 are trailing ones (columns): length and value.
type TokenTable = ([[u8; 4]; 17], [[u8; 4]; 17]);

/// Table 9-5, for few numbers around (0 ≤ nC < 2), for more, and for still more (4 ≤ nC < 8). What comes after is plain.
const TOKENS: [TokenTable; 3] = [
    (
        [
            [1, 0, 0, 0],
            [6, 2, 0, 0],
            [8, 6, 3, 0],
            [9, 8, 7, 5],
            [10, 9, 8, 6],
            [11, 10, 9, 7],
            [13, 11, 10, 8],
            [13, 13, 11, 9],
            [13, 13, 13, 10],
            [14, 14, 13, 11],
            [14, 14, 14, 13],
            [15, 15, 14, 14],
            [15, 15, 15, 14],
            [16, 15, 15, 15],
            [16, 16, 16, 15],
            [16, 16, 16, 16],
            [16, 16, 16, 16],
        ],
        [
            [1, 0, 0, 0],
            [5, 1, 0, 0],
            [7, 4, 1, 0],
            [7, 6, 5, 3],
            [7, 6, 5, 3],
            [7, 6, 5, 4],
            [15, 6, 5, 4],
            [11, 14, 5, 4],
            [8, 10, 13, 4],
            [15, 14, 9, 4],
            [11, 10, 13, 12],
            [15, 14, 9, 12],
            [11, 10, 13, 8],
            [15, 1, 9, 12],
            [11, 14, 13, 8],
            [7, 10, 9, 12],
            [4, 6, 5, 8],
        ],
    ),
    (
        [
            [2, 0, 0, 0],
            [6, 2, 0, 0],
            [6, 5, 3, 0],
            [7, 6, 6, 4],
            [8, 6, 6, 4],
            [8, 7, 7, 5],
            [9, 8, 8, 6],
            [11, 9, 9, 6],
            [11, 11, 11, 7],
            [12, 11, 11, 9],
            [12, 12, 12, 11],
            [12, 12, 12, 11],
            [13, 13, 13, 12],
            [13, 13, 13, 13],
            [13, 14, 13, 13],
            [14, 14, 14, 13],
            [14, 14, 14, 14],
        ],
        [
            [3, 0, 0, 0],
            [11, 2, 0, 0],
            [7, 7, 3, 0],
            [7, 10, 9, 5],
            [7, 6, 5, 4],
            [4, 6, 5, 6],
            [7, 6, 5, 8],
            [15, 6, 5, 4],
            [11, 14, 13, 4],
            [15, 10, 9, 4],
            [11, 14, 13, 12],
            [8, 10, 9, 8],
            [15, 14, 13, 12],
            [11, 10, 9, 12],
            [7, 11, 6, 8],
            [9, 8, 10, 1],
            [7, 6, 5, 4],
        ],
    ),
    (
        [
            [4, 0, 0, 0],
            [6, 4, 0, 0],
            [6, 5, 4, 0],
            [6, 5, 5, 4],
            [7, 5, 5, 4],
            [7, 5, 5, 4],
            [7, 6, 6, 4],
            [7, 6, 6, 4],
            [8, 7, 7, 5],
            [8, 8, 7, 6],
            [9, 8, 8, 7],
            [9, 9, 8, 8],
            [9, 9, 9, 8],
            [10, 9, 9, 9],
            [10, 10, 10, 10],
            [10, 10, 10, 10],
            [10, 10, 10, 10],
        ],
        [
            [15, 0, 0, 0],
            [15, 14, 0, 0],
            [11, 15, 13, 0],
            [8, 12, 14, 12],
            [15, 10, 11, 11],
            [11, 8, 9, 10],
            [9, 14, 13, 9],
            [8, 10, 9, 8],
            [15, 14, 13, 13],
            [11, 14, 10, 12],
            [15, 10, 13, 12],
            [11, 14, 9, 12],
            [8, 10, 13, 8],
            [13, 7, 9, 12],
            [9, 12, 11, 10],
            [5, 8, 7, 6],
            [1, 4, 3, 2],
        ],
    ),
];

/// Table 9-5, for the four means of colour (nC = −1).
const COLOUR_TOKENS: ([[u8; 4]; 5], [[u8; 4]; 5]) = (
    [
        [2, 0, 0, 0],
        [6, 1, 0, 0],
        [6, 6, 3, 0],
        [6, 7, 7, 6],
        [6, 8, 8, 7],
    ],
    [
        [1, 0, 0, 0],
        [7, 1, 0, 0],
        [4, 6, 1, 0],
        [3, 3, 2, 5],
        [2, 3, 2, 0],
    ],
);

/// Which words say how many numbers a block has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tokens {
    /// By the mean of the counts around, nC.
    Around(u8),
    /// The four means of colour.
    ColourMeans,
}

impl Tokens {
    /// coeff_token: the word for so many numbers, so many of them trailing ones.
    pub(super) fn word(self, total: usize, ones: usize) -> Word {
        let (lengths, values) = match self {
            Self::Around(0..2) => &TOKENS[0],
            Self::Around(2..4) => &TOKENS[1],
            Self::Around(4..8) => &TOKENS[2],
            Self::Around(_) if total == 0 => return (6, 3),
            Self::Around(_) => return (6, (4 * (total - 1) + ones) as u8),
            Self::ColourMeans => {
                let (lengths, values) = &COLOUR_TOKENS;
                return (lengths[total][ones], values[total][ones]);
            }
        };
        (lengths[total][ones], values[total][ones])
    }
}

/// Tables 9-7 and 9-8: zeros before the last number, by how many numbers there are, from 1.
const ZEROS: [&[Word]; 15] = [
    &[
        (1, 1),
        (3, 3),
        (3, 2),
        (4, 3),
        (4, 2),
        (5, 3),
        (5, 2),
        (6, 3),
        (6, 2),
        (7, 3),
        (7, 2),
        (8, 3),
        (8, 2),
        (9, 3),
        (9, 2),
        (9, 1),
    ],
    &[
        (3, 7),
        (3, 6),
        (3, 5),
        (3, 4),
        (3, 3),
        (4, 5),
        (4, 4),
        (4, 3),
        (4, 2),
        (5, 3),
        (5, 2),
        (6, 3),
        (6, 2),
        (6, 1),
        (6, 0),
    ],
    &[
        (4, 5),
        (3, 7),
        (3, 6),
        (3, 5),
        (4, 4),
        (4, 3),
        (3, 4),
        (3, 3),
        (4, 2),
        (5, 3),
        (5, 2),
        (6, 1),
        (5, 1),
        (6, 0),
    ],
    &[
        (5, 3),
        (3, 7),
        (4, 5),
        (4, 4),
        (3, 6),
        (3, 5),
        (3, 4),
        (4, 3),
        (3, 3),
        (4, 2),
        (5, 2),
        (5, 1),
        (5, 0),
    ],
    &[
        (4, 5),
        (4, 4),
        (4, 3),
        (3, 7),
        (3, 6),
        (3, 5),
        (3, 4),
        (3, 3),
        (4, 2),
        (5, 1),
        (4, 1),
        (5, 0),
    ],
    &[
        (6, 1),
        (5, 1),
        (3, 7),
        (3, 6),
        (3, 5),
        (3, 4),
        (3, 3),
        (3, 2),
        (4, 1),
        (3, 1),
        (6, 0),
    ],
    &[
        (6, 1),
        (5, 1),
        (3, 5),
        (3, 4),
        (3, 3),
        (2, 3),
        (3, 2),
        (4, 1),
        (3, 1),
        (6, 0),
    ],
    &[
        (6, 1),
        (4, 1),
        (5, 1),
        (3, 3),
        (2, 3),
        (2, 2),
        (3, 2),
        (3, 1),
        (6, 0),
    ],
    &[
        (6, 1),
        (6, 0),
        (4, 1),
        (2, 3),
        (2, 2),
        (3, 1),
        (2, 1),
        (5, 1),
    ],
    &[(5, 1), (5, 0), (3, 1), (2, 3), (2, 2), (2, 1), (4, 1)],
    &[(4, 0), (4, 1), (3, 1), (3, 2), (1, 1), (3, 3)],
    &[(4, 0), (4, 1), (2, 1), (1, 1), (3, 1)],
    &[(3, 0), (3, 1), (1, 1), (2, 1)],
    &[(2, 0), (2, 1), (1, 1)],
    &[(1, 0), (1, 1)],
];

/// Table 9-9 (a): the same for the four means of colour.
const COLOUR_ZEROS: [&[Word]; 3] = [
    &[(1, 1), (2, 1), (3, 1), (3, 0)],
    &[(1, 1), (2, 1), (2, 0)],
    &[(1, 1), (1, 0)],
];

/// total_zeros: the words for 0, 1, … zeros among `total` numbers, which leave room for some.
pub(super) fn zeros(total: usize, colour_means: bool) -> &'static [Word] {
    if colour_means {
        COLOUR_ZEROS[total - 1]
    } else {
        ZEROS[total - 1]
    }
}

/// Table 9-10: zeros before a number, by how many are left, from 1; the last row is for all beyond 6.
const RUNS: [&[Word]; 7] = [
    &[(1, 1), (1, 0)],
    &[(1, 1), (2, 1), (2, 0)],
    &[(2, 3), (2, 2), (2, 1), (2, 0)],
    &[(2, 3), (2, 2), (2, 1), (3, 1), (3, 0)],
    &[(2, 3), (2, 2), (3, 3), (3, 2), (3, 1), (3, 0)],
    &[(2, 3), (3, 0), (3, 1), (3, 3), (3, 2), (3, 5), (3, 4)],
    &[
        (3, 7),
        (3, 6),
        (3, 5),
        (3, 4),
        (3, 3),
        (3, 2),
        (3, 1),
        (4, 1),
        (5, 1),
        (6, 1),
        (7, 1),
        (8, 1),
        (9, 1),
        (10, 1),
        (11, 1),
    ],
];

/// run_before: the words for 0, 1, … zeros where so many are left, one at least.
pub(super) fn runs(left: usize) -> &'static [Word] {
    RUNS[left.min(7) - 1]
}

/// Table 9-4 (a), for what is predicted from the frame before: the pattern that each number stands for.
pub(super) const PATTERNS: [u8; 48] = [
    0, 16, 1, 2, 4, 8, 32, 3, 5, 10, 12, 15, 47, 7, 11, 13, 14, 6, 9, 31, 35, 37, 42, 44, 33, 34,
    36, 40, 39, 43, 45, 46, 17, 18, 20, 24, 19, 21, 26, 28, 23, 27, 29, 30, 22, 25, 38, 41,
];

#[cfg(test)]
mod tests {
    use super::*;

    /// The share of all rows of bits that begin with one of the words, if no word begins another.
    fn share(words: &[Word]) -> f64 {
        for (i, (length, value)) in words.iter().enumerate() {
            assert!(u32::from(*value) < 1 << length, "{value} in {length} bits");
            for (other_length, other) in &words[i + 1..] {
                let common = length.min(other_length);
                let start = |length: &u8, value: &u8| value.checked_shr((length - common).into());
                let [a, b] = [start(length, value), start(other_length, other)];
                assert_ne!(a.unwrap_or(0), b.unwrap_or(0), "{words:?}");
            }
        }
        words
            .iter()
            .map(|(length, _)| 0.5_f64.powi((*length).into()))
            .sum()
    }

    #[test]
    fn zeros_and_runs_use_every_bit() {
        for words in ZEROS.iter().chain(&COLOUR_ZEROS).chain(&RUNS) {
            let unused = match words.len() {
                // All zeros would begin a code for more.
                16 => 0.5_f64.powi(9),
                15 if words[0] == (3, 7) && words[14] == (11, 1) => 0.5_f64.powi(11),
                _ => 0.0,
            };
            assert_eq!(share(words), 1.0 - unused, "{words:?}");
        }
        for (total, words) in (1..).zip(ZEROS) {
            assert_eq!(words.len(), 17 - total);
        }
    }

    /// A few words are unused, so that no start code can arise.
    #[test]
    fn tokens_can_be_told_apart() {
        let tokens = |tokens: Tokens, most: usize| -> Vec<Word> {
            let pairs =
                (0..=most).flat_map(|total| (0..=total.min(3)).map(move |ones| (total, ones)));
            pairs
                .map(|(total, ones)| tokens.word(total, ones))
                .collect()
        };
        for around in [0, 2, 4] {
            let share = share(&tokens(Tokens::Around(around), 16));
            assert!((0.99..=1.0).contains(&share), "{around}: {share}");
        }
        assert_eq!(share(&tokens(Tokens::Around(8), 16)), 62.0 / 64.0);
        let share = share(&tokens(Tokens::ColourMeans, 4));
        assert!((0.99..=1.0).contains(&share), "{share}");
    }

    #[test]
    fn every_pattern_has_one_number() {
        let mut patterns = PATTERNS;
        patterns.sort_unstable();
        assert!(patterns.into_iter().eq(0..48));
    }
}
