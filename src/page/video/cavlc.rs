//! The numbers of a block as bits: how many, the trailing ones, the others, and the zeros between them.
//!
//! Source: ITU-T H.264, clauses 7.3.5.3.2 (syntax) and 9.2 (CAVLC).

use super::bits::Bits;
use super::codes::{self, Tokens, Word};

/// A number that the codes of Baseline do not reach; such blocks are stored as they are.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct TooLarge;

/// Writes the numbers of a block, the lowest frequency first, and says how many are not zero.
pub(super) fn block(bits: &mut Bits, levels: &[i32], tokens: Tokens) -> Result<u8, TooLarge> {
    // From the highest frequency down: values, and how many zeros come before each.
    let mut values = [0; 16];
    let mut gaps = [0; 16];
    let (mut total, mut zeros, mut gap) = (0, 0, 0);
    for level in levels {
        if *level == 0 {
            gap += 1;
        } else {
            (values[total], gaps[total]) = (*level, gap);
            total += 1;
            zeros += gap;
            gap = 0;
        }
    }
    let (values, gaps) = (&mut values[..total], &gaps[..total]);
    values.reverse();
    let ones = values.iter().take(3).take_while(|v| v.abs() == 1).count();
    put(bits, tokens.word(total, ones));
    values[..ones]
        .iter()
        .for_each(|value| bits.flag(*value < 0));
    write_values(bits, &values[ones..], total, ones)?;
    if (1..levels.len()).contains(&total) {
        put(
            bits,
            codes::zeros(total, tokens == Tokens::ColourMeans)[zeros],
        );
    }
    let mut left = zeros;
    // What is left before the lowest number needs no word.
    for gap in gaps.iter().skip(1).rev() {
        if left > 0 {
            put(bits, codes::runs(left)[*gap]);
            left -= gap;
        }
    }
    Ok(total as u8)
}

fn put(bits: &mut Bits, (length, value): Word) {
    bits.put(value.into(), length.into());
}

/// The numbers behind the trailing ones: level_prefix and level_suffix, whose length grows with the numbers (9.2.2.1).
fn write_values(
    bits: &mut Bits,
    values: &[i32],
    total: usize,
    ones: usize,
) -> Result<(), TooLarge> {
    let mut suffix = u32::from(total > 10 && ones < 3);
    for (index, value) in values.iter().enumerate() {
        let size = value.unsigned_abs();
        let mut code = 2 * size - if *value > 0 { 2 } else { 1 };
        // After fewer than three ones the next is no one.
        if index == 0 && ones < 3 {
            code -= 2;
        }
        write_value(bits, code, suffix)?;
        suffix = suffix.max(1);
        if size > 3 << (suffix - 1) && suffix < 6 {
            suffix += 1;
        }
    }
    Ok(())
}

/// levelCode as a row of zeros, a one and a suffix of so many bits.
fn write_value(bits: &mut Bits, code: u32, suffix: u32) -> Result<(), TooLarge> {
    let (prefix, rest, length) = match suffix {
        0 if code < 14 => (code, 0, 0),
        0 if code < 30 => (14, code - 14, 4),
        0 => (15, code - 30, 12),
        _ if code < 15 << suffix => (code >> suffix, code & ((1 << suffix) - 1), suffix),
        _ => (15, code - (15 << suffix), 12),
    };
    if rest >> length > 0 {
        return Err(TooLarge);
    }
    bits.put(1, prefix + 1);
    bits.put(rest, length);
    Ok(())
}
