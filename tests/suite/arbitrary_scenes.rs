//! Arbitrary scenes for property tests: every kind, unit and way of writing, names that need quoting.

use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use sixhold::printable::is_printable;
use sixhold::scene::units::{ForceUnit, LengthUnit, MassUnit};
use sixhold::scene::{
    Allowable, AreaAmount, BarSection, BentBar, Block, Bracket, Case, CaseCombination, Coordinates,
    Direction, Disc, ForceVector, Heaviness, Hole, Imposed, LessonStage, LessonStep, LineAmount,
    Load, Material, Moment, NamedPoint, Place, Plate, Scene, Shaft, Shape, Space, Stiffness,
    Support, SupportKind, SupportStiffness, Units, Wall,
};

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        (-1000i32..1000).prop_map(f64::from),
        -1e3..1e3,
        proptest::num::f64::NORMAL.prop_filter("within what is read", |x| x.abs() < 1e29),
    ]
}

fn size() -> impl Strategy<Value = f64> {
    prop_oneof![(1i32..1000).prop_map(f64::from), 1e-3..1e3]
}

fn word() -> impl Strategy<Value = String> {
    prop_oneof![
        "[A-Z][a-z0-9 ]{0,6}",
        "\\PC{1,8}"
            .prop_map(shown)
            .prop_filter("not blank", |s| !s.trim().is_empty())
    ]
}

/// The text without what no title may hold.
fn shown(text: String) -> String {
    text.chars().filter(|c| is_printable(*c)).collect()
}

/// The text without what no notes may hold.
fn laid_out(text: String) -> String {
    let allowed = |c: &char| is_printable(*c) || "\n\r\t".contains(*c);
    text.chars().filter(allowed).collect()
}

/// Whether a body is made of bars alone, with every couple at a place of its own.
fn can_bend<'a>(body: &[Shape], mut loads: impl Iterator<Item = &'a Load>) -> bool {
    let is_bar = |shape: &Shape| matches!(shape, Shape::BentBar(_) | Shape::Shaft(_));
    body.iter().all(is_bar) && !loads.any(|load| matches!(load, Load::Couple { at: None, .. }))
}

/// No material for some, else one that shears or not.
fn material(points: usize) -> Option<Material> {
    (!points.is_multiple_of(3)).then_some(Material {
        youngs_modulus: 2.1e11,
        shear_modulus: 8.1e10,
        shear: points % 3 == 1,
    })
}

/// Every section in its turn.
fn section(turn: usize, diameter: f64) -> BarSection {
    match turn {
        2 => BarSection::Solid,
        3 => BarSection::Tube {
            wall: diameter / 8.0,
        },
        _ => BarSection::Given {
            area: diameter,
            second_moment: 2.5e-8,
            torsion_constant: 5e-8,
            shear_area: (diameter > 1.0).then_some(1e-3),
        },
    }
}

/// What differs between the two spaces.
#[derive(Debug, Clone, Copy)]
struct World {
    space: Space,
    names: usize,
}

impl World {
    fn coordinates(self) -> BoxedStrategy<Coordinates> {
        match self.space {
            Space::Spatial => [number(), number(), number()]
                .prop_map(Coordinates::Space)
                .boxed(),
            Space::Planar => [number(), number()].prop_map(Coordinates::Plane).boxed(),
        }
    }

    fn direction(self) -> BoxedStrategy<Direction> {
        let along = self
            .coordinates()
            .prop_filter("not zero", |c| c.components() != [0.0; 3])
            .prop_map(Direction::Along);
        let towards = self.place().prop_map(Direction::Towards);
        match self.space {
            Space::Spatial => prop_oneof![along, towards].boxed(),
            Space::Planar => {
                prop_oneof![along, towards, number().prop_map(Direction::Angle)].boxed()
            }
        }
    }

    fn place(self) -> BoxedStrategy<Place> {
        let at = self.coordinates().prop_map(Place::At);
        match self.names {
            0 => at.boxed(),
            n => prop_oneof![at, (0..n).prop_map(|i| Place::Named(point_name(i)))].boxed(),
        }
    }

    fn shape(self) -> BoxedStrategy<Shape> {
        let bar = (vec(self.place(), 2..5), size(), option::of(size()));
        let bar = bar.prop_map(|(path, diameter, bend_radius)| {
            Shape::BentBar(BentBar {
                section: section(path.len(), diameter),
                path,
                diameter,
                bend_radius,
            })
        });
        let bracket = (self.place(), [self.place(), self.place()], size(), size());
        let bracket = bracket.prop_map(|(corner, legs, width, thickness)| {
            let gusset = 0.0;
            Shape::Bracket(Bracket {
                corner,
                legs,
                width,
                thickness,
                gusset,
            })
        });
        let shaft = (self.place(), self.place(), size());
        let shaft =
            shaft.prop_map(|(from, to, diameter)| Shape::Shaft(Shaft { from, to, diameter }));
        let sizes = [size(), size(), size()];
        let block = (
            self.place(),
            sizes,
            option::of(self.direction()),
            option::of(self.direction()),
        );
        let block = block.prop_map(|(centre, size, lengthwise, upright)| {
            Shape::Block(Block {
                centre,
                size,
                lengthwise,
                upright,
            })
        });
        prop_oneof![bar, self.plate(), bracket, shaft, self.disc(), block].boxed()
    }

    /// A square plate with a hole in the middle.
    fn plate(self) -> BoxedStrategy<Shape> {
        let at = move |x, y| match self.space {
            Space::Spatial => Place::At(Coordinates::Space([x, y, 0.5])),
            Space::Planar => Place::At(Coordinates::Plane([x, y])),
        };
        let plate = move |(side, thickness, with_hole): (f64, f64, bool)| {
            let corners = vec![at(0.0, 0.0), at(side, 0.0), at(side, side), at(0.0, side)];
            let hole = Hole {
                centre: at(side / 2.0, side / 2.0),
                diameter: side / 3.0,
            };
            let holes = if with_hole { vec![hole] } else { Vec::new() };
            Shape::Plate(Plate {
                corners,
                thickness,
                holes,
            })
        };
        (size(), size(), any::<bool>()).prop_map(plate).boxed()
    }

    fn disc(self) -> BoxedStrategy<Shape> {
        let axis = match self.space {
            Space::Spatial => self.direction().prop_map(Some).boxed(),
            Space::Planar => Just(None).boxed(),
        };
        let disc = |(centre, axis, diameter, thickness, part): (_, _, f64, _, f64)| {
            let (bore, groove) = (diameter * part, diameter * part * 0.1);
            Shape::Disc(Disc {
                centre,
                axis,
                diameter,
                thickness,
                bore,
                groove,
            })
        };
        (
            self.place(),
            axis,
            size(),
            size(),
            prop_oneof![Just(0.0), 0.1..0.5],
        )
            .prop_map(disc)
            .boxed()
    }

    fn support_kind(self) -> BoxedStrategy<SupportKind> {
        use SupportKind as Kind;
        let turning = || (self.direction(), any::<bool>());
        let normal = || self.direction();
        let both = prop_oneof![
            Just(Kind::Fixed),
            normal().prop_map(|normal| Kind::Roller { normal }),
            normal().prop_map(|normal| Kind::SmoothContact { normal }),
            (normal(), option::of(size()))
                .prop_map(|(normal, friction)| Kind::RoughContact { normal, friction }),
            self.place().prop_map(|ground| Kind::Link { ground }),
            self.place().prop_map(|ground| Kind::Cable { ground }),
        ];
        let own = match self.space {
            Space::Spatial => prop_oneof![
                Just(Kind::BallJoint),
                turning().prop_map(|(axis, couples)| Kind::Hinge { axis, couples }),
                turning().prop_map(|(axis, couples)| Kind::SlidingHinge { axis, couples }),
                turning().prop_map(|(axis, couples)| Kind::JournalBearing { axis, couples }),
                turning().prop_map(|(axis, couples)| Kind::ThrustBearing { axis, couples }),
                turning().prop_map(|(axis, couples)| Kind::SquareJournal { axis, couples }),
                turning().prop_map(|(axis, couples)| Kind::SmoothPin { axis, couples }),
                turning().prop_map(|(rod, couples)| Kind::Slider { rod, couples }),
                normal().prop_map(|axis| Kind::UniversalJoint { axis }),
                (normal(), normal()).prop_map(|(rail, normal)| Kind::RailWheel { rail, normal }),
            ]
            .boxed(),
            Space::Planar => prop_oneof![
                Just(Kind::Pin),
                normal().prop_map(|normal| Kind::Rocker { normal }),
                normal().prop_map(|along| Kind::Slot { along }),
                normal().prop_map(|rod| Kind::Collar { rod }),
            ]
            .boxed(),
        };
        prop_oneof![both, own].boxed()
    }

    fn load(self) -> BoxedStrategy<Load> {
        let components = self.coordinates().prop_map(ForceVector::Components);
        let directed = (number(), self.direction());
        let directed =
            directed.prop_map(|(size, direction)| ForceVector::Directed { size, direction });
        let force = (self.place(), prop_oneof![components, directed]);
        let moment = match self.space {
            Space::Spatial => [number(), number(), number()]
                .prop_map(Moment::Space)
                .boxed(),
            Space::Planar => number().prop_map(Moment::Plane).boxed(),
        };
        let spread = (
            self.place(),
            self.place(),
            self.coordinates(),
            option::of(self.coordinates()),
        );
        let amount = prop_oneof![
            size().prop_map(Heaviness::Mass),
            size().prop_map(Heaviness::Density)
        ];
        let gravity = prop_oneof![Just(9.806_65), Just(0.0), size()];
        prop_oneof![
            force.prop_map(|(at, force)| Load::Force { at, force }),
            (moment, option::of(self.place())).prop_map(|(moment, at)| Load::Couple { moment, at }),
            spread.prop_map(|(from, to, start, end)| Load::Distributed {
                from,
                to,
                start,
                end
            }),
            self.spread_load(),
            (amount, option::of(self.place()), gravity).prop_map(|(amount, at, gravity)| {
                Load::Weight {
                    amount,
                    at,
                    gravity,
                }
            }),
        ]
        .boxed()
    }

    /// A load along a path, and in space over a triangle of any three places that are no corners of a line.
    fn spread_load(self) -> BoxedStrategy<Load> {
        let amount = prop_oneof![
            self.coordinates().prop_map(LineAmount::Force),
            (size(), prop_oneof![Just(9.806_65), Just(0.0), size()]).prop_map(
                |(per_length, gravity)| LineAmount::Mass {
                    per_length,
                    gravity,
                }
            ),
        ];
        let path = ((-1000i32..1000).prop_map(f64::from), vec(size(), 1..4)).prop_map(
            move |(start, steps)| {
                let places = steps.into_iter().scan(start, |x, step| {
                    *x += step;
                    Some(*x)
                });
                let places = std::iter::once(start).chain(places);
                let at = |x| Place::At(Coordinates::new(self.space, [x, -2.5, 0.0]));
                places.map(at).collect::<Vec<_>>()
            },
        );
        let line = (path, amount).prop_map(|(path, amount)| Load::Line { path, amount });
        if self.space == Space::Planar {
            return line.boxed();
        }
        let amount = prop_oneof![
            (self.coordinates(), any::<bool>())
                .prop_map(|(force, on_plan)| (AreaAmount::Force(force), on_plan)),
            number().prop_map(|pressure| (AreaAmount::Pressure(pressure), false)),
        ];
        let area = ([size(), size()], amount).prop_map(|([x, y], (amount, on_plan))| {
            let corners = [[0.0, 0.0, 1.5], [x, 0.0, 1.5], [0.0, y, 1.5]];
            let corner = |xyz| Place::At(Coordinates::Space(xyz));
            Load::Area {
                corners: corners.map(corner).into(),
                amount,
                on_plan,
            }
        });
        prop_oneof![line, area].boxed()
    }

    fn scene(self) -> BoxedStrategy<Scene> {
        let loads = || vec(self.load(), 0..4);
        let parts = (
            vec(self.coordinates(), self.names),
            vec(self.shape(), 1..4),
            vec((word(), self.place(), self.support_kind()), 0..6),
            loads(),
            vec((word(), loads()), 0..3),
        );
        let texts = (
            option::of(".*".prop_map(shown)),
            option::of("(?s).*".prop_map(laid_out)),
            units(),
            option::of(1e-6..1e3),
        );
        (parts, texts)
            .prop_map(move |(parts, texts)| self.assemble(parts, texts))
            .boxed()
    }

    #[expect(clippy::type_complexity, reason = "what one strategy hands over")]
    fn assemble(
        self,
        (points, body, supports, loads, cases): (
            Vec<Coordinates>,
            Vec<Shape>,
            Vec<(String, Place, SupportKind)>,
            Vec<Load>,
            Vec<(String, Vec<Load>)>,
        ),
        (title, notes, units, placement_tolerance): (
            Option<String>,
            Option<String>,
            Units,
            Option<f64>,
        ),
    ) -> Scene {
        let points = points.into_iter().enumerate();
        let supports = supports.into_iter().enumerate();
        let cases = cases.into_iter().enumerate();
        let case = |(i, (name, loads)): (usize, (String, Vec<Load>))| Case {
            name: format!("{name} {i}"),
            loads,
            imposed: imposed(self.space, i),
        };
        let cases: Vec<Case> = cases.map(case).collect();
        let all_loads = || {
            loads
                .iter()
                .chain(cases.iter().flat_map(|case| &case.loads))
        };
        Scene {
            lesson: lesson(title.as_deref(), notes.as_deref()),
            title: title.unwrap_or_default(),
            notes: notes.unwrap_or_default(),
            units,
            space: self.space,
            datum: Default::default(),
            placement_tolerance,
            elastic: points.len() % 2 == 1,
            material: material(points.len()).filter(|_| can_bend(&body, all_loads())),
            points: points
                .map(|(i, at)| NamedPoint {
                    name: point_name(i),
                    at,
                })
                .collect(),
            walls: walls(self.space, &body),
            body,
            supports: supports
                .map(|(i, (name, at, kind))| Support {
                    stiffness: stiffness(&name, kind.counts(self.space)),
                    allowable: allowable(&name, &kind, self.space),
                    name: format!("{i} {name}"),
                    at,
                    kind,
                })
                .collect(),
            loads,
            imposed: Vec::new(),
            combinations: combinations(&cases),
            cases,
        }
    }
}

/// A change of temperature in every other case, which refers to no support.
fn imposed(space: Space, case: usize) -> Vec<Imposed> {
    let by = if space == Space::Planar { -17.5 } else { 40.0 };
    let expansion = 1.2e-5;
    vec![Imposed::Warming { by, expansion }; case % 2]
}

/// Of two cases a combination of both.
fn combinations(cases: &[Case]) -> Vec<CaseCombination> {
    let [first, second] = cases else {
        return Vec::new();
    };
    vec![CaseCombination {
        name: "both".to_owned(),
        permanent: if first.loads.is_empty() { 1.35 } else { 1.0 },
        factors: vec![(second.name.clone(), -0.5), (first.name.clone(), 1.5)],
    }]
}

/// Stiffnesses as the name says, so that no other part of a scene is drawn anew: none, one for all, or one for each.
fn stiffness(name: &str, counts: [usize; 2]) -> SupportStiffness {
    let letters: Vec<u32> = name.chars().map(u32::from).collect();
    let number = |i: usize| f64::from(1 + letters[i % letters.len()]) * 10_f64.powi(i as i32 - 2);
    let given = |count: usize, how: u32| match how % 3 {
        _ if count == 0 => None,
        0 => None,
        1 => Some(Stiffness::Same(number(count))),
        _ => Some(Stiffness::Each((0..count).map(number).collect())),
    };
    let [first, last] = [letters[0], letters[letters.len() - 1]];
    SupportStiffness {
        forces: given(counts[0], first),
        couples: given(counts[1], first + last),
    }
}

/// Allowable forces as the name says: none, or some of those that the kind has.
fn allowable(name: &str, kind: &SupportKind, space: Space) -> Option<Allowable> {
    let letter = name.chars().next().map_or(0, u32::from);
    let force = |bit: u32| ((letter >> bit) & 1 == 1).then_some(0.5 + f64::from(letter));
    let outwards = Coordinates::new(space, [f64::from(letter), -0.25, 1.0]);
    let given = |outwards: Option<Coordinates>, [tension, compression, shear]: [Option<f64>; 3]| {
        Allowable {
            tension,
            compression,
            shear,
            exponent: 1.0 + f64::from(letter % 3),
            outwards,
        }
    };
    let forces = [force(0), force(1), force(2)];
    let fitting = [
        given(Some(outwards), forces),
        given(None, [forces[0], None, None]),
        given(None, [None, forces[1], None]),
    ];
    let is_any = |one: &Allowable| one.forces().iter().any(|(_, force)| force.is_some());
    fitting
        .into_iter()
        .find(|one| is_any(one) && one.fits(kind, space))
}

/// Walls where plates are: any outline that a scene can write.
fn walls(space: Space, body: &[Shape]) -> Vec<Wall> {
    let outlines = body.iter().filter_map(|shape| match shape {
        Shape::Plate(plate) => Some(plate.corners.as_slice()),
        _ => None,
    });
    let corners = |outline: &[Place]| match space {
        Space::Spatial => outline.to_vec(),
        Space::Planar => outline[..2].to_vec(),
    };
    outlines
        .map(|outline| Wall {
            corners: corners(outline),
        })
        .collect()
}

/// Stages in any order, some with notes: what the texts say, so that no other part of a scene is drawn anew.
fn lesson(title: Option<&str>, notes: Option<&str>) -> Vec<LessonStep> {
    let (Some(title), Some(notes)) = (title, notes) else {
        return Vec::new();
    };
    let [from, count] = [title, notes].map(|text| text.chars().count() % LessonStage::ALL.len());
    let mut stages = LessonStage::ALL;
    stages.rotate_left(from);
    let note = |index: usize| match [title, notes][index % 2] {
        blank if blank.trim().is_empty() => String::new(),
        text => text.to_owned(),
    };
    let steps = stages.into_iter().take(count + 1).enumerate();
    steps
        .map(|(index, stage)| LessonStep {
            note: note(index),
            stage,
        })
        .collect()
}

/// Names that need quoting, escaping and nothing of the kind.
fn point_name(i: usize) -> String {
    ["A", "B\"", "c\\d", "β 1", "/*"]
        .get(i)
        .map_or_else(|| format!("P{i}"), |name| (*name).to_owned() + "_")
}

fn units() -> impl Strategy<Value = Units> {
    let length = proptest::sample::select(&LengthUnit::ALL[..]);
    let force = proptest::sample::select(&ForceUnit::ALL[..]);
    let mass = proptest::sample::select(&MassUnit::ALL[..]);
    (length, force, mass).prop_map(|(length, force, mass)| Units {
        length,
        force,
        mass,
    })
}

/// Any scene; its geometry may be degenerate.
pub(crate) fn scene() -> impl Strategy<Value = Scene> {
    let space = prop_oneof![Just(Space::Spatial), Just(Space::Planar)];
    (space, 0usize..7).prop_flat_map(|(space, names)| World { space, names }.scene())
}
