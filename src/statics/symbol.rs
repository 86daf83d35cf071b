//! Symbols of unknowns: a letter with a subscript.

use std::fmt;

/// The symbol of a quantity, as books write it: `A_x`, `M_Ax`, `T_C`, `n`.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Symbol {
    /// What is on the line.
    pub letter: String,
    /// The label below it, such as the name of a support; may be empty.
    pub label: String,
    /// The axis behind the label; may be empty.
    pub axis: &'static str,
}

impl Symbol {
    /// A symbol without subscript.
    pub fn plain(letter: impl Into<String>) -> Self {
        Self {
            letter: letter.into(),
            label: String::new(),
            axis: "",
        }
    }

    /// Whether something is below the line.
    pub fn has_subscript(&self) -> bool {
        !(self.label.is_empty() && self.axis.is_empty())
    }
}

/// On one line, with an underscore in front of the subscript.
impl fmt::Display for Symbol {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.letter)?;
        if self.has_subscript() {
            write!(f, "_{}{}", self.label, self.axis)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn symbols_on_one_line() {
        let symbol = |letter: &str, label: &str, axis| Symbol {
            letter: letter.to_owned(),
            label: label.to_owned(),
            axis,
        };
        assert_eq!(symbol("A", "", "x").to_string(), "A_x");
        assert_eq!(symbol("M", "A", "x").to_string(), "M_Ax");
        assert_eq!(symbol("N", "left_foot", "").to_string(), "N_left_foot");
        assert_eq!(Symbol::plain("n").to_string(), "n");
    }
}
