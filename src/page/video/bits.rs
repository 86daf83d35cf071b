//! Bits in a row and the units that carry them in an H.264 stream.
//!
//! Source: ITU-T H.264, clauses 7.2 (descriptors u, ue, se), 7.3.1 and 7.4.1 (NAL units), 9.1 (Exp-Golomb codes).

/// Bits that are written one code after the other, the most significant bit first.
#[derive(Debug, Default, Clone)]
pub(super) struct Bits {
    bytes: Vec<u8>,
    /// Bits that fill no byte yet, in the lowest places.
    open: u64,
    count: u32,
}

impl Bits {
    /// How many bits have been written.
    pub(super) fn len(&self) -> usize {
        8 * self.bytes.len() + self.count as usize
    }

    /// u(n): the lowest `count` bits of a number, 32 at most.
    pub(super) fn put(&mut self, value: u32, count: u32) {
        assert!(
            count == 32 || value >> count == 0,
            "{value} in {count} bits"
        );
        self.open = (self.open << count) | u64::from(value);
        self.count += count;
        while self.count >= 8 {
            self.count -= 8;
            self.bytes.push((self.open >> self.count) as u8);
        }
    }

    /// u(1).
    pub(super) fn flag(&mut self, value: bool) {
        self.put(value.into(), 1);
    }

    /// ue(v): a number below 2³² − 1.
    pub(super) fn ue(&mut self, value: u32) {
        let length = 32 - (value + 1).leading_zeros();
        self.put(0, length - 1);
        self.put(value + 1, length);
    }

    /// se(v): 0, 1, −1, 2, −2, …
    pub(super) fn se(&mut self, value: i32) {
        self.ue(2 * value.unsigned_abs() - u32::from(value > 0));
    }

    /// Zero bits up to the end of the byte.
    pub(super) fn align(&mut self) {
        self.put(0, (8 - self.count) % 8);
    }

    /// Whole bytes, from the start of one.
    pub(super) fn bytes(&mut self, bytes: &[u8]) {
        assert_eq!(self.count, 0, "in the middle of a byte");
        self.bytes.extend_from_slice(bytes);
    }

    /// All bits of another row.
    pub(super) fn append(&mut self, other: &Self) {
        for byte in &other.bytes {
            self.put(u32::from(*byte), 8);
        }
        let mask = (1 << other.count) - 1;
        self.put((other.open & mask) as u32, other.count);
    }

    /// Whole bytes so far.
    #[cfg(test)]
    pub(super) fn as_bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// A NAL unit of these bits: its header byte, the bits with the closing one behind them, and a 3 wherever two zero
    /// bytes would begin what looks like a start code.
    pub(super) fn unit(mut self, header: u8) -> Vec<u8> {
        self.flag(true);
        self.align();
        let mut unit = vec![header];
        let mut zeros = 0;
        for byte in self.bytes {
            if zeros == 2 && byte <= 3 {
                unit.push(3);
                zeros = 0;
            }
            zeros = if byte == 0 { zeros + 1 } else { 0 };
            unit.push(byte);
        }
        unit
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(write: impl FnOnce(&mut Bits)) -> String {
        let mut bits = Bits::default();
        write(&mut bits);
        let length = bits.len();
        bits.align();
        let digits: String = bits.bytes.iter().map(|b| format!("{b:08b}")).collect();
        digits[..length].to_owned()
    }

    /// Tables 9-2 and 9-3 of the standard.
    #[test]
    fn golomb_codes_are_those_of_the_standard() {
        let unsigned = [
            "1", "010", "011", "00100", "00101", "00110", "00111", "0001000",
        ];
        for (value, code) in (0..).zip(unsigned) {
            assert_eq!(written(|bits| bits.ue(value)), code);
        }
        for (value, code) in [0, 1, -1, 2, -2, 3, -3].into_iter().zip(unsigned) {
            assert_eq!(written(|bits| bits.se(value)), code, "{value}");
        }
    }

    #[test]
    fn rows_are_joined_at_any_bit() {
        for shift in 0..9 {
            let mut other = Bits::default();
            other.put(0xABCDE, 20);
            let joined = written(|bits| {
                bits.put(0, shift);
                bits.append(&other);
                bits.put(0xFFFF_FFFF, 32);
            });
            let zeros = "0".repeat(shift as usize);
            let ones = "1".repeat(32);
            assert_eq!(joined, format!("{zeros}10101011110011011110{ones}"));
        }
    }

    #[test]
    fn no_unit_holds_a_start_code() {
        let mut bits = Bits::default();
        bits.bytes(&[0, 0, 0, 0, 0, 1, 0, 0, 4, 0, 0, 3]);
        let expected = [0x65, 0, 0, 3, 0, 0, 3, 0, 1, 0, 0, 4, 0, 0, 3, 3, 0x80];
        assert_eq!(bits.unit(0x65), expected);
    }
}
