//! Units of a scene and their exact factors to SI.
//!
//! Source: NIST Special Publication 811 (2008 edition), Appendix B.8. The foot and the pound are exact by
//! definition: 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg; 1 lbf = 1 lb × 9.806 65 m/s².

/// Standard acceleration of free fall, m/s² (NIST SP 811, Appendix B.8; exact by convention).
pub const STANDARD_GRAVITY: f64 = 9.806_65;

const POUND_KG: f64 = 0.453_592_37;
const FOOT_M: f64 = 0.3048;

/// The units that the numbers of a scene are written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Units {
    /// Unit of lengths and positions.
    pub length: LengthUnit,
    /// Unit of forces.
    pub force: ForceUnit,
    /// Unit of masses.
    pub mass: MassUnit,
}

impl Units {
    /// Newton metres in one of the scene's moment units (force × length).
    pub fn moment_in_newton_metres(&self) -> f64 {
        self.force.in_newtons() * self.length.in_metres()
    }

    /// Symbol of the moment unit, such as `N·m`.
    pub fn moment_symbol(&self) -> String {
        format!("{}·{}", self.force.symbol(), self.length.symbol())
    }
}

/// Unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[non_exhaustive]
pub enum LengthUnit {
    /// Metre.
    #[default]
    Metre,
    /// Millimetre.
    Millimetre,
    /// International foot.
    Foot,
    /// International inch.
    Inch,
}

impl LengthUnit {
    /// Every unit, in the order they are listed to users.
    pub const ALL: [Self; 4] = [Self::Metre, Self::Millimetre, Self::Foot, Self::Inch];

    /// Metres in one of this unit (exact).
    pub fn in_metres(self) -> f64 {
        match self {
            Self::Metre => 1.0,
            Self::Millimetre => 0.001,
            Self::Foot => FOOT_M,
            Self::Inch => 0.0254,
        }
    }

    /// Symbol, as written in scene files.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Metre => "m",
            Self::Millimetre => "mm",
            Self::Foot => "ft",
            Self::Inch => "in",
        }
    }
}

/// Unit of force.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[non_exhaustive]
pub enum ForceUnit {
    /// Newton.
    #[default]
    Newton,
    /// Kilonewton.
    Kilonewton,
    /// Pound-force.
    PoundForce,
    /// Kilopound-force.
    Kip,
}

impl ForceUnit {
    /// Every unit, in the order they are listed to users.
    pub const ALL: [Self; 4] = [Self::Newton, Self::Kilonewton, Self::PoundForce, Self::Kip];

    /// Newtons in one of this unit (exact).
    pub fn in_newtons(self) -> f64 {
        match self {
            Self::Newton => 1.0,
            Self::Kilonewton => 1000.0,
            Self::PoundForce => POUND_KG * STANDARD_GRAVITY,
            Self::Kip => 1000.0 * POUND_KG * STANDARD_GRAVITY,
        }
    }

    /// Symbol, as written in scene files.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Newton => "N",
            Self::Kilonewton => "kN",
            Self::PoundForce => "lbf",
            Self::Kip => "kip",
        }
    }
}

/// Unit of mass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[non_exhaustive]
pub enum MassUnit {
    /// Kilogram.
    #[default]
    Kilogram,
    /// Tonne.
    Tonne,
    /// Avoirdupois pound.
    Pound,
}

impl MassUnit {
    /// Every unit, in the order they are listed to users.
    pub const ALL: [Self; 3] = [Self::Kilogram, Self::Tonne, Self::Pound];

    /// Kilograms in one of this unit (exact).
    pub fn in_kilograms(self) -> f64 {
        match self {
            Self::Kilogram => 1.0,
            Self::Tonne => 1000.0,
            Self::Pound => POUND_KG,
        }
    }

    /// Symbol, as written in scene files.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Kilogram => "kg",
            Self::Tonne => "t",
            Self::Pound => "lb",
        }
    }

    /// kg/m³ in one of this unit per its customary volume: cubic metre, or cubic foot for the pound (exact factors).
    pub fn density_in_si(self) -> f64 {
        match self {
            Self::Kilogram | Self::Tonne => self.in_kilograms(),
            Self::Pound => POUND_KG / (FOOT_M * FOOT_M * FOOT_M),
        }
    }

    /// kg/m in one of this unit per its customary length: metre, or foot for the pound (exact factors).
    pub fn linear_density_in_si(self) -> f64 {
        match self {
            Self::Kilogram | Self::Tonne => self.in_kilograms(),
            Self::Pound => POUND_KG / FOOT_M,
        }
    }
}

/// What to write for a length in a unit that scenes do not have, or by another name; factors from the same source.
pub(super) fn other_length(word: &str) -> Option<&'static str> {
    Some(match word {
        "metre" | "meter" | "metres" | "meters" => "write `m`",
        "foot" | "feet" => "write `ft`",
        "inch" | "inches" => "write `in`",
        "cm" => "write `mm`; 1 cm is 10 mm",
        "dm" => "write `mm`; 1 dm is 100 mm",
        "km" => "write `m`; 1 km is 1000 m",
        "yd" => "write `ft`; 1 yd is 3 ft",
        _ => return None,
    })
}

/// The same for a force.
pub(super) fn other_force(word: &str) -> Option<&'static str> {
    Some(match word {
        "newton" | "newtons" => "write `N`",
        "lb" | "lbs" | "pound" | "pounds" => "write `lbf`",
        "daN" => "write `N`; 1 daN is 10 N",
        "MN" => "write `kN`; 1 MN is 1000 kN",
        "kgf" | "kp" => "write `N`; 1 kgf is 9.80665 N",
        "kg" | "t" => "write `N`; masses go into the load `Weight(mass: …)`",
        _ => return None,
    })
}

/// The same for a mass.
pub(super) fn other_mass(word: &str) -> Option<&'static str> {
    Some(match word {
        "kilogram" | "kilograms" => "write `kg`",
        "tonne" | "tonnes" => "write `t`",
        "pound" | "pounds" => "write `lb`",
        "g" => "write `kg`; 1 g is 0.001 kg",
        "Mg" => "write `t`; 1 Mg is 1 t",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST SP 811 (2008), Appendix B.8, seven-figure table values.
    #[test]
    fn factors_agree_with_the_published_table() {
        let close =
            |ours: f64, table: f64| assert!((ours / table - 1.0).abs() < 5e-7, "{ours} {table}");
        close(ForceUnit::PoundForce.in_newtons(), 4.448_222);
        close(ForceUnit::Kip.in_newtons(), 4_448.222);
        close(MassUnit::Pound.density_in_si(), 16.018_46);
        let foot_pound = Units {
            length: LengthUnit::Foot,
            force: ForceUnit::PoundForce,
            mass: MassUnit::Pound,
        };
        close(foot_pound.moment_in_newton_metres(), 1.355_818);
    }
}
