//! Equations of equilibrium about whatever a reader asks for.

use nalgebra::Point3;

use super::candidates::axis_balances;
use super::equation::{Balance, Equation};
use crate::statics::{CaseIndex, Line, Model};

/// What moments are taken about.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum MomentCentre {
    /// Axes through this point, m.
    Point(Point3<f64>),
    /// One line.
    Line(Line),
}

/// The equations of equilibrium of a load case: about a point the six in components, forces along the axes and moments about
/// the axes through it (planar: three); about a line the sum of moments about it alone.
pub fn equations_about(model: &Model, case: CaseIndex, about: &MomentCentre) -> Vec<Equation> {
    let balances = match about {
        MomentCentre::Point(point) => axis_balances(model.space, point),
        MomentCentre::Line(line) => vec![Balance::Moments(line.point, line.direction)],
    };
    let equations = balances.into_iter();
    equations
        .map(|balance| Equation::new(model, case, balance))
        .collect()
}

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;

    use super::*;
    use crate::scene::read_str;
    use crate::statics::ReactionKind;

    /// A bar on two ball joints, pushed down beside the line through them.
    fn bar() -> Model {
        let text = "(format: 1, body: [Shaft(from: (0, 0, 0), to: (2, 0, 0), diameter: 0.1)],
            supports: [BallJoint(name: \"A\", at: (0, 0, 0)), BallJoint(name: \"B\", at: (2, 0, 0))],
            loads: [Force(at: (1, 0.5, 0), force: (0, 0, -10))])";
        Model::new(&read_str("bar", text).unwrap().scene).unwrap()
    }

    fn named(model: &Model, equation: &Equation) -> Vec<(String, f64)> {
        let terms = equation.terms.iter();
        terms
            .map(|term| {
                let name = model.reactions[term.reaction].name.clone();
                (name, term.coefficient)
            })
            .collect()
    }

    /// Moments by hand: `r × F` about B has the components (y F_z, −x F_z, 0) of a force along z.
    #[test]
    fn six_equations_about_any_point() {
        let model = bar();
        let about = MomentCentre::Point(Point3::new(2.0, 0.0, 0.0));
        let equations = equations_about(&model, CaseIndex::FIRST, &about);
        let loads: Vec<f64> = equations.iter().map(|equation| equation.load).collect();
        assert_eq!(loads, [0.0, 0.0, -10.0, -5.0, -10.0, 0.0]);
        assert_eq!(named(&model, &equations[3]), [], "all meet the x axis");
        assert_eq!(named(&model, &equations[4]), [("A_z".to_owned(), 2.0)]);
        assert_eq!(named(&model, &equations[5]), [("A_y".to_owned(), -2.0)]);
    }

    /// Varignon: the moment about P is that about O plus the sum of forces times the way between them, for every reaction and load.
    #[test]
    fn moments_about_two_points_differ_by_the_forces() {
        let model = bar();
        let [one, other] = [Point3::new(0.3, -0.4, 0.7), Point3::new(-1.1, 0.2, 0.5)];
        let [here, there] = [one, other]
            .map(|at| equations_about(&model, CaseIndex::FIRST, &MomentCentre::Point(at)));
        let way = one - other;
        for reaction in model.reactions.indices() {
            assert_eq!(model.reactions[reaction].kind, ReactionKind::Force);
            let [force, before, after] = [&here[..3], &here[3..], &there[3..]]
                .map(|three| Vector3::from_fn(|axis, _| three[axis].coefficient(reaction)));
            assert!((before + way.cross(&force) - after).norm() < 1e-12);
        }
    }

    #[test]
    fn about_the_shared_axis_the_load_alone_is_left() {
        let model = bar();
        let line = Line::new(Point3::new(5.0, 0.0, 0.0), &Vector3::x_axis());
        let [equation]: [Equation; 1] =
            equations_about(&model, CaseIndex::FIRST, &MomentCentre::Line(line))
                .try_into()
                .unwrap();
        assert_eq!(named(&model, &equation), []);
        assert_eq!(equation.load, -5.0);
    }
}
