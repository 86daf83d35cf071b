//! Colours and stroke widths by meaning, shared by the viewer and by figures.
//!
//! Strokes use the colour-blind-safe set of Okabe & Ito, "Color Universal Design" (2008). Meaning never rests
//! on colour alone: every stroke also has a shape, a dash or a label of its own.

/// An sRGB colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// Paper.
    pub const WHITE: Self = Self(0xFF, 0xFF, 0xFF);

    /// Red, green and blue of linear light, 0 to 1 (IEC 61966-2-1:1999).
    pub fn linear(self) -> [f64; 3] {
        [self.0, self.1, self.2].map(|byte| {
            let c = f64::from(byte) / 255.0;
            if c <= 0.040_45 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        })
    }
}

/// The themes a user can choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
#[non_exhaustive]
pub enum ThemeName {
    /// For a darkened hall.
    #[default]
    Hall,
    /// For daylight and print.
    Daylight,
    /// Greatest contrast.
    Stark,
}

impl ThemeName {
    /// Every theme, in the order that stepping through them takes.
    pub const ALL: [Self; 3] = [Self::Hall, Self::Daylight, Self::Stark];

    /// The word shown to users.
    pub fn word(self) -> &'static str {
        match self {
            Self::Hall => "hall",
            Self::Daylight => "daylight",
            Self::Stark => "stark",
        }
    }

    /// The next theme, round and round.
    #[must_use]
    pub fn next(self) -> Self {
        match self {
            Self::Hall => Self::Daylight,
            Self::Daylight => Self::Stark,
            Self::Stark => Self::Hall,
        }
    }
}

/// Share of what lies behind a label that its plate, in the background's colour, covers.
pub const PLATE: f64 = 0.95;

/// Every colour of a theme, by meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// Behind everything.
    pub background: Colour,
    /// The floor and the panels.
    pub surface: Colour,
    /// Text on background and panels.
    pub ink: Colour,
    /// Less important text.
    pub quiet_ink: Colour,
    /// The body.
    pub body: Colour,
    /// Support hardware that belongs to the ground.
    pub hardware: Colour,
    /// Hatched ground blocks.
    pub ground: Colour,
    /// Reactions.
    pub reaction: Colour,
    /// Loads.
    pub load: Colour,
    /// The shared axis and its beads.
    pub axis: Colour,
    /// The free motion: ribbon, ghosts' outline, arrow heads.
    pub motion: Colour,
    /// Dependent group, warnings.
    pub group: Colour,
    /// Trial and repair links.
    pub trial: Colour,
    /// Errors.
    pub error: Colour,
}

impl Theme {
    /// The colours of a theme.
    pub const fn of(name: ThemeName) -> Self {
        match name {
            ThemeName::Hall => HALL,
            ThemeName::Daylight => DAYLIGHT,
            ThemeName::Stark => STARK,
        }
    }
}

// Hues are those of the Okabe-Ito set, made lighter or darker until the tests below hold: blue for reactions, orange or
// vermillion for loads, yellow (black on paper) for the axis, green for motion, purple for groups.

const HALL: Theme = Theme {
    background: Colour(0x15, 0x17, 0x1C),
    surface: Colour(0x20, 0x23, 0x2A),
    ink: Colour(0xF3, 0xF0, 0xE8),
    quiet_ink: Colour(0xB4, 0xB0, 0xA6),
    body: Colour(0x74, 0x6D, 0x64),
    hardware: Colour(0x5E, 0x70, 0x82),
    ground: Colour(0x92, 0x8C, 0x85),
    reaction: Colour(0x56, 0xB4, 0xE9),
    load: Colour(0xE6, 0x9F, 0x00),
    axis: Colour(0xF0, 0xE4, 0x42),
    motion: Colour(0x86, 0xD9, 0xC0),
    group: Colour(0xD8, 0x8B, 0xB6),
    trial: Colour(0xCC, 0x60, 0x00),
    error: Colour(0xFF, 0x8B, 0x6A),
};

const DAYLIGHT: Theme = Theme {
    background: Colour(0xF6, 0xF4, 0xEE),
    surface: Colour(0xFF, 0xFF, 0xFF),
    ink: Colour(0x1B, 0x1A, 0x18),
    quiet_ink: Colour(0x5A, 0x56, 0x4F),
    body: Colour(0x8C, 0x81, 0x70),
    hardware: Colour(0x78, 0x8F, 0xA6),
    ground: Colour(0x66, 0x62, 0x5D),
    reaction: Colour(0x00, 0x72, 0xB2),
    load: Colour(0x9A, 0x43, 0x00),
    axis: Colour(0x00, 0x00, 0x00),
    motion: Colour(0x00, 0x55, 0x3E),
    group: Colour(0x97, 0x50, 0x7C),
    trial: Colour(0xB8, 0x7E, 0x00),
    error: Colour(0xA3, 0x12, 0x2A),
};

const STARK: Theme = Theme {
    background: Colour(0x00, 0x00, 0x00),
    surface: Colour(0x00, 0x00, 0x00),
    ink: Colour(0xFF, 0xFF, 0xFF),
    quiet_ink: Colour(0xD8, 0xD8, 0xD8),
    body: Colour(0x8A, 0x84, 0x7C),
    hardware: Colour(0x6B, 0x7C, 0x94),
    ground: Colour(0x5E, 0x5B, 0x57),
    reaction: Colour(0x6C, 0xC2, 0xF5),
    load: Colour(0xE8, 0xA2, 0x00),
    axis: Colour(0xFF, 0xF3, 0x4A),
    motion: Colour(0x9B, 0xEB, 0xD3),
    group: Colour(0xE0, 0x8F, 0xBE),
    trial: Colour(0xE0, 0x78, 0x28),
    error: Colour(0xFF, 0x9C, 0x85),
};

#[cfg(test)]
mod tests {
    use super::*;

    type Matrix = [[f64; 3]; 3];

    const NORMAL: Matrix = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    /// Complete protanopia, deuteranopia and tritanopia on linear RGB: Machado, Oliveira & Fernandes, "A
    /// Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE TVCG 15 (2009), severity 1.0.
    const PROTANOPIA: Matrix = [
        [0.152_286, 1.052_583, -0.204_868],
        [0.114_503, 0.786_281, 0.099_216],
        [-0.003_882, -0.048_116, 1.051_998],
    ];
    const DEUTERANOPIA: Matrix = [
        [0.367_322, 0.860_646, -0.227_968],
        [0.280_085, 0.672_501, 0.047_413],
        [-0.011_820, 0.042_940, 0.968_881],
    ];
    const TRITANOPIA: Matrix = [
        [1.255_528, -0.076_749, -0.178_779],
        [-0.078_411, 0.930_809, 0.147_602],
        [0.004_733, 0.691_367, 0.303_900],
    ];
    /// sRGB to CIE XYZ under D65 (IEC 61966-2-1:1999).
    const XYZ: Matrix = [
        [0.412_456_4, 0.357_576_1, 0.180_437_5],
        [0.212_672_9, 0.715_152_2, 0.072_175_0],
        [0.019_333_9, 0.119_192_0, 0.950_304_1],
    ];

    fn apply(matrix: &Matrix, v: [f64; 3]) -> [f64; 3] {
        matrix.map(|row| row.iter().zip(v).map(|(a, b)| a * b).sum())
    }

    /// Relative luminance and contrast ratio: WCAG 2.2, definitions.
    fn contrast(a: Colour, b: Colour) -> f64 {
        let luminance = |c: Colour| apply(&XYZ, c.linear())[1] + 0.05;
        let (a, b) = (luminance(a), luminance(b));
        a.max(b) / a.min(b)
    }

    /// CIE 1976 L*a*b* under D65 (CIE 15:2004).
    fn lab(colour: Colour, vision: &Matrix) -> [f64; 3] {
        let seen = apply(vision, colour.linear()).map(|x| x.clamp(0.0, 1.0));
        let [x, y, z] = apply(&XYZ, seen);
        let f = |t: f64| {
            if t > 216.0 / 24_389.0 {
                t.cbrt()
            } else {
                (24_389.0 / 27.0 * t + 16.0) / 116.0
            }
        };
        let (fx, fy, fz) = (f(x / 0.950_47), f(y), f(z / 1.088_83));
        [116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)]
    }

    /// The least colour difference (CIE 1976) over all four kinds of sight.
    fn least_difference(a: Colour, b: Colour) -> f64 {
        let difference = |vision: &Matrix| {
            let (a, b) = (lab(a, vision), lab(b, vision));
            a.iter()
                .zip(b)
                .map(|(a, b)| (a - b).powi(2))
                .sum::<f64>()
                .sqrt()
        };
        [NORMAL, PROTANOPIA, DEUTERANOPIA, TRITANOPIA]
            .iter()
            .map(difference)
            .fold(f64::INFINITY, f64::min)
    }

    fn strokes(theme: &Theme) -> [(&'static str, Colour); 6] {
        [
            ("reaction", theme.reaction),
            ("load", theme.load),
            ("axis", theme.axis),
            ("motion", theme.motion),
            ("group", theme.group),
            ("trial", theme.trial),
        ]
    }

    fn solids(theme: &Theme) -> [(&'static str, Colour); 3] {
        [
            ("body", theme.body),
            ("hardware", theme.hardware),
            ("ground", theme.ground),
        ]
    }

    fn assert_contrast(what: &str, a: Colour, b: Colour, least: f64) {
        let ratio = contrast(a, b);
        assert!(ratio >= least, "{what}: contrast {ratio:.2} < {least}");
    }

    fn assert_different(what: &str, a: Colour, b: Colour, least: f64) {
        let difference = least_difference(a, b);
        assert!(
            difference >= least,
            "{what}: difference {difference:.1} < {least}"
        );
    }

    /// WCAG 2.2, success criteria 1.4.3 (text, 4.5) and 1.4.6 (enhanced, 7); the stark theme keeps the latter.
    #[test]
    fn text_stands_out_from_all_that_it_lies_on() {
        for name in ThemeName::ALL {
            let theme = Theme::of(name);
            let enhanced = if name == ThemeName::Stark { 7.0 } else { 4.5 };
            for (place, behind) in [("background", theme.background), ("surface", theme.surface)] {
                let of = |what: &str| format!("{name:?}: {what} on {place}");
                assert_contrast(&of("ink"), theme.ink, behind, 7.0);
                assert_contrast(&of("quiet ink"), theme.quiet_ink, behind, enhanced);
                assert_contrast(&of("error"), theme.error, behind, enhanced);
                // Labels are written in the colour of their stroke; trial links carry no text.
                for (stroke, colour) in strokes(&theme).into_iter().filter(|s| s.0 != "trial") {
                    assert_contrast(&of(stroke), colour, behind, enhanced);
                }
            }
        }
    }

    /// WCAG 2.2, success criterion 1.4.11 (graphical objects, 3).
    #[test]
    fn strokes_stand_out_from_the_background() {
        for name in ThemeName::ALL {
            let theme = Theme::of(name);
            for (stroke, colour) in strokes(&theme) {
                assert_contrast(
                    &format!("{name:?}: {stroke}"),
                    colour,
                    theme.background,
                    3.0,
                );
            }
        }
    }

    /// WCAG 2.2, success criterion 1.4.11 (graphical objects, 3). Whatever lies over anything else, strokes and hardware, is
    /// cut out of it by an outline in the colour of the background: so nothing but background and floor touches it.
    #[test]
    fn solids_stand_out_from_the_background_and_the_floor() {
        for name in ThemeName::ALL {
            let theme = Theme::of(name);
            for (what, colour) in solids(&theme) {
                let on = |place: &str| format!("{name:?}: {what} on {place}");
                assert_contrast(&on("background"), colour, theme.background, 3.0);
                assert_contrast(&on("floor"), colour, theme.surface, 3.0);
            }
            assert_different("body, hardware", theme.body, theme.hardware, 14.0);
            assert_different("body, ground", theme.body, theme.ground, 12.0);
        }
    }

    /// WCAG 2.2, success criterion 1.4.3 (text, 4.5): a label lies on its plate, through which what is behind it shines.
    #[test]
    fn labels_stand_out_from_their_plates_over_any_solid() {
        for name in ThemeName::ALL {
            let theme = Theme::of(name);
            // The names of trial links are written in ink.
            let written = strokes(&theme).into_iter().filter(|s| s.0 != "trial");
            for (what, colour) in written.chain([("ink", theme.ink)]) {
                for (solid, behind) in solids(&theme) {
                    let luminance = |colour: Colour| apply(&XYZ, colour.linear())[1];
                    let plate =
                        PLATE * luminance(theme.background) + (1.0 - PLATE) * luminance(behind);
                    let (a, b) = (luminance(colour) + 0.05, plate + 0.05);
                    let ratio = a.max(b) / a.min(b);
                    assert!(ratio >= 4.5, "{name:?}: {what} over {solid}: {ratio:.2}");
                }
            }
        }
    }

    /// A difference of about 2.3 is just noticeable (Mahy, Van Eycken & Oosterlinck, Color Res. Appl. 19 (1994));
    /// thin strokes get more than five times that under every kind of sight, and solids more still.
    #[test]
    fn strokes_differ_from_each_other_and_from_solids_for_every_kind_of_sight() {
        for name in ThemeName::ALL {
            let theme = Theme::of(name);
            let strokes = strokes(&theme);
            for (i, (a, first)) in strokes.iter().enumerate() {
                for (b, second) in &strokes[i + 1..] {
                    assert_different(&format!("{name:?}: {a}, {b}"), *first, *second, 13.0);
                }
                assert_different(&format!("{name:?}: {a}, body"), *first, theme.body, 20.0);
                let hardware = format!("{name:?}: {a}, hardware");
                assert_different(&hardware, *first, theme.hardware, 13.0);
                let ground = format!("{name:?}: {a}, ground");
                assert_different(&ground, *first, theme.ground, 11.0);
            }
        }
    }

    /// WCAG 2.2: black on white is 21; CIE: a white has L* = 100.
    #[test]
    fn the_measures_agree_with_their_definitions() {
        let (black, white) = (Colour(0, 0, 0), Colour(255, 255, 255));
        assert!((contrast(black, white) - 21.0).abs() < 1e-4);
        assert!((lab(white, &NORMAL)[0] - 100.0).abs() < 1e-4);
        // Neutral colours look the same to everyone.
        for vision in [PROTANOPIA, DEUTERANOPIA, TRITANOPIA] {
            assert!(lab(Colour(128, 128, 128), &vision)[1].abs() < 0.1);
        }
    }

    #[test]
    fn stepping_through_the_themes_visits_each() {
        let mut name = ThemeName::default();
        for expected in ThemeName::ALL {
            assert_eq!(name, expected);
            name = name.next();
        }
        assert_eq!(name, ThemeName::default());
    }
}
