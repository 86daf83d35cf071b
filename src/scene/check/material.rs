//! Checks on what lets bars bend.

use super::super::{BarSection, BentBar, Heaviness, Load, Material, Shape};
use super::{Checker, Flaw};

impl Checker<'_> {
    pub(super) fn material(&mut self) {
        for (shape, at) in self.scene.body.iter().zip(&self.places.shapes) {
            let flaw = match (shape, &self.scene.material) {
                (Shape::BentBar(bar), material) => section_flaw(bar, material.as_ref()),
                (Shape::Shaft(_), _) | (_, None) => None,
                (other, Some(_)) => Some(("", Flaw::NotABar { shape: word(other) })),
            };
            if let Some((field, flaw)) = flaw {
                self.findings.error(at.of(field), flaw);
            }
        }
        let cases = self.scene.cases.iter().flat_map(|case| &case.loads);
        let places = self.places.loads.iter().chain(self.places.case_loads());
        for (load, at) in self.scene.loads.iter().chain(cases).zip(places) {
            if let Some((field, flaw)) = self.load_flaw(load) {
                self.findings.error(at.of(field), flaw);
            }
        }
    }

    /// What is wrong with a load on bars, and the field to blame.
    fn load_flaw(&self, load: &Load) -> Option<(&'static str, Flaw)> {
        match load {
            // A density times the volume that is drawn would not be the mass.
            Load::Weight {
                amount: Heaviness::Density(_),
                ..
            } if self.scene.body.iter().any(has_section) => {
                Some(("density", Flaw::DensityOfSections))
            }
            Load::Couple { at: None, .. } if self.scene.material.is_some() => {
                Some(("at", Flaw::CoupleNowhere))
            }
            _ => None,
        }
    }
}

/// What is wrong with the section of a bar, and the field to blame.
fn section_flaw(bar: &BentBar, material: Option<&Material>) -> Option<(&'static str, Flaw)> {
    let flaw = match bar.section {
        BarSection::Tube { wall } if wall >= bar.diameter / 2.0 => Flaw::ThickWall,
        BarSection::Given {
            shear_area: None, ..
        } if material.is_some_and(|material| material.shear) => Flaw::NoShearArea,
        _ => return None,
    };
    Some(("section", flaw))
}

fn has_section(shape: &Shape) -> bool {
    matches!(shape, Shape::BentBar(bar) if bar.section != BarSection::Solid)
}

/// What a shape that is no bar is called.
fn word(shape: &Shape) -> &'static str {
    match shape {
        Shape::BentBar(_) | Shape::Shaft(_) => "bar",
        Shape::Plate(_) => "plate",
        Shape::Bracket(_) => "bracket",
        Shape::Disc(_) => "disc",
        Shape::Block(_) => "block",
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::flaws;

    const NONE: [&str; 0] = [];
    const STEEL: &str = "material: (youngs_modulus: 210e9, shear_modulus: 81e9";

    fn bar(section: &str) -> String {
        format!("body: [BentBar(path: [\"A\", \"B\"], diameter: 0.05, section: {section})]")
    }

    #[test]
    fn a_tube_is_hollow() {
        let tube = |wall: f64| flaws(&bar(&format!("Tube(wall: {wall})")));
        assert_eq!(tube(0.003), NONE);
        let closed = ["the wall of the tube is as thick as its radius or thicker"];
        assert_eq!(tube(0.025), closed);
        assert_eq!(tube(0.03), closed);
        assert_eq!(tube(0.0), ["`wall` of Tube is the number 0"]);
    }

    #[test]
    fn numbers_of_sections_and_materials_are_above_zero() {
        let given = |i: f64, j: f64| {
            let numbers = format!("area: 1e-4, second_moment: {i}, torsion_constant: {j}");
            flaws(&bar(&format!("Given({numbers})")))
        };
        assert_eq!(given(1e-9, 2e-9), NONE);
        assert_eq!(
            given(-1e-9, 2e-9),
            ["`second_moment` of Given is the number -1e-9"]
        );
        assert_eq!(
            given(1e-9, 0.0),
            ["`torsion_constant` of Given is the number 0"]
        );
        assert_eq!(flaws(&format!("{STEEL})")), NONE);
        let none = "material: (youngs_modulus: 0, shear_modulus: -1)";
        assert_eq!(
            flaws(none),
            [
                "`youngs_modulus` of `material` is the number 0",
                "`shear_modulus` of `material` is the number -1"
            ]
        );
    }

    #[test]
    fn a_section_that_shears_has_a_shear_area() {
        let sheared = |more| {
            let numbers = "area: 1e-4, second_moment: 1e-9, torsion_constant: 2e-9";
            let section = format!("Given({numbers}{more})");
            flaws(&format!("{STEEL}, shear: true), {}", bar(&section)))
        };
        assert_eq!(sheared(", shear_area: 5e-5"), NONE);
        let missing = "`shear` is true, and this section has no `shear_area`";
        assert_eq!(sheared(""), [missing]);
    }

    #[test]
    fn bodies_that_bend_are_made_of_bars() {
        let body = |shapes| flaws(&format!("{STEEL}), body: [{shapes}]"));
        assert_eq!(body("Shaft(from: \"A\", to: \"B\", diameter: 0.1)"), NONE);
        assert_eq!(
            body("Block(centre: \"A\", size: (1, 1, 1))"),
            ["with `material` the body bends, and a block is no bar"]
        );
    }

    #[test]
    fn a_couple_bends_a_bar_at_its_place() {
        let couple = |at| flaws(&format!("{STEEL}), loads: [Couple(moment: (0, 0, 5){at})]"));
        assert_eq!(couple(", at: \"B\""), NONE);
        assert_eq!(couple(""), ["the couple has no place on the bars"]);
    }

    #[test]
    fn a_density_is_that_of_solid_bars() {
        let loads = "loads: [Weight(density: 7850)]";
        assert_eq!(flaws(&format!("{}, {loads}", bar("Solid"))), NONE);
        assert_eq!(
            flaws(&format!("{}, {loads}", bar("Tube(wall: 0.003)"))),
            ["the weight is given as a density, and `section` makes bars other than solid"]
        );
    }
}
