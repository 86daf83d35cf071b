//! A link drawn by hand: where it is fastened, at named points or round coordinates, and the scene that has it.

use nalgebra::{Point3, Vector3};

use super::eye_places::{EyePlace, EyePlaces};
use super::mending::{AddedLink, free_name};
use crate::scene::{Coordinates, Place, Scene, Space, Support, SupportKind, solid};
use crate::statics::Diagnosis;

/// A body to draw links from.
#[derive(Debug, Clone)]
pub struct Drawable {
    spots: EyePlaces,
    space: Space,
    metres: f64,
}

/// The end of a link on the body.
#[derive(Debug, Clone, PartialEq)]
pub struct LinkEnd {
    /// As a scene writes it: a named point, or round coordinates.
    pub at: Place,
    /// The same, m.
    pub point: Point3<f64>,
}

impl Drawable {
    /// The body of a scene; `None` where it has no solids.
    pub fn of(scene: &Scene) -> Option<Self> {
        Some(Self {
            spots: EyePlaces::of(scene, 0)?,
            space: scene.space,
            metres: scene.units.length.in_metres(),
        })
    }

    /// The named points of the body.
    pub fn named(&self) -> impl Iterator<Item = LinkEnd> {
        self.spots.spots.iter().map(|spot| self.eye(spot))
    }

    /// First point of the body on the ray from `origin` along `way`, at round coordinates.
    pub fn seen(&self, origin: &Point3<f64>, way: &Vector3<f64>) -> Option<LinkEnd> {
        let hit = solid::first_hit(&self.spots.solids, origin, way)?;
        let (written, point) = self.rounded(&hit);
        Some(self.eye(&EyePlace {
            point,
            written,
            name: None,
            oddness: 0,
        }))
    }

    /// The ground end at round coordinates nearest to a point, m; `None` where that is the eye itself.
    pub fn ground_end(&self, eye: &LinkEnd, near: &Point3<f64>) -> Option<Coordinates> {
        let (written, point) = self.rounded(near);
        let long = (point - eye.point).norm() > self.spots.grid.step() * self.metres;
        long.then(|| Coordinates::new(self.space, written))
    }

    fn eye(&self, spot: &EyePlace) -> LinkEnd {
        LinkEnd {
            at: spot.place(self.space),
            point: spot.point,
        }
    }

    fn rounded(&self, point: &Point3<f64>) -> ([f64; 3], Point3<f64>) {
        let mut written: [f64; 3] = point
            .coords
            .map(|x| self.spots.grid.rounded(x / self.metres))
            .into();
        if self.space == Space::Planar {
            written[2] = 0.0;
        }
        (written, Point3::from(written) * self.metres)
    }
}

/// A scene with one more link, and the link's name, which no other support has.
pub fn with_link(scene: &Scene, eye: &LinkEnd, ground: &Coordinates) -> (Scene, String) {
    let name = free_name(scene);
    let mut longer = scene.clone();
    longer.supports.push(Support {
        name: name.clone(),
        at: eye.at.clone(),
        kind: SupportKind::Link {
            ground: Place::At(*ground),
        },
        stiffness: Default::default(),
        allowable: None,
    });
    (longer, name)
}

/// Both ends of a link or cable as coordinates; `None` of any other support.
fn ends_of(scene: &Scene, support: &Support) -> Option<[[f64; 3]; 2]> {
    match &support.kind {
        SupportKind::Link { ground } | SupportKind::Cable { ground } => {
            Some([scene.position(&support.at)?, scene.position(ground)?])
        }
        _ => None,
    }
}

impl AddedLink {
    /// Its end on the body of a scene in the same units that has changed since; `None` where it lacks the named point, its
    /// body no longer reaches there, or it now has that link itself.
    pub fn eye_in(&self, scene: &Scene) -> Option<LinkEnd> {
        let at = self.at.clone();
        let written = scene.position(&at)?;
        let ends = Some([written, self.ground.components()]);
        let mut supports = scene.supports.iter();
        if supports.any(|support| ends_of(scene, support) == ends) {
            return None;
        }
        let point = Point3::from(written) * scene.units.length.in_metres();
        let eye = LinkEnd { at, point };
        let (longer, _) = with_link(scene, &eye, &self.ground);
        let reaches = |(support, _): &(usize, f64)| *support != scene.supports.len();
        solid::stands_off(&longer)
            .iter()
            .all(reaches)
            .then_some(eye)
    }

    /// A link drawn by hand, and what the diagnosis of the scene that has it says.
    pub fn drawn(name: String, eye: LinkEnd, ground: Coordinates, with_it: &Diagnosis) -> Self {
        let mut link = Self {
            name,
            at: eye.at,
            ground,
            point: eye.point,
            smallest: 0.0,
            freedom: 0,
        };
        link.measure(with_it);
        link
    }

    /// Says anew what a diagnosis of the scene that has the link says.
    pub fn measure(&mut self, with_it: &Diagnosis) {
        let last = with_it.counts.rank.checked_sub(1);
        let values = &with_it.numeric.singular_values;
        self.smallest = last.and_then(|i| values.get(i).copied()).unwrap_or(0.0);
        self.freedom = with_it.counts.freedom;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::statics::{Model, Tolerance};

    const RAIL: &str = r#"(format: 1, title: "rail", units: (length: mm),
        points: { "A": (0, 0, 0), "B": (2000, 0, 0), "far": (0, 9000, 0) },
        body: [BentBar(path: ["A", (0, 0, 1000), (2000, 0, 1000), "B"], diameter: 50)],
        supports: [BallJoint(name: "A", at: "A"), BallJoint(name: "B", at: "B")])"#;

    fn scene() -> Scene {
        read_str("rail", RAIL).unwrap().scene
    }

    #[test]
    fn eyes_are_named_or_at_round_coordinates() {
        let rail = Drawable::of(&scene()).unwrap();
        let named: Vec<Place> = rail.named().map(|eye| eye.at).collect();
        assert_eq!(named, ["A", "B"].map(|name| Place::Named(name.to_owned())));
        let origin = Point3::new(1.2345678, -3.0, 1.001);
        let eye = rail.seen(&origin, &Vector3::y()).unwrap();
        // The box around the rail has a diagonal of 2 284 mm, so coordinates are whole multiples of 10 mm.
        let expected = Coordinates::Space([1230.0, -20.0, 1000.0]);
        assert_eq!(eye.at, Place::At(expected));
        assert_eq!(eye.point, Point3::new(1.23, -0.02, 1.0));
        assert!(rail.seen(&origin, &-Vector3::y()).is_none());
    }

    #[test]
    fn a_link_across_the_shared_axis_holds_the_rail() {
        let scene = scene();
        let rail = Drawable::of(&scene).unwrap();
        let eye = rail
            .seen(&Point3::new(1.0, -3.0, 1.0), &Vector3::y())
            .unwrap();
        assert_eq!(rail.ground_end(&eye, &eye.point), None, "no length");
        let ground = rail.ground_end(&eye, &Point3::new(1.0, 1.0, 1.0)).unwrap();
        let (longer, name) = with_link(&scene, &eye, &ground);
        let diagnosis = Diagnosis::new(&Model::new(&longer).unwrap(), Tolerance::default());
        let link = AddedLink::drawn(name, eye, ground, &diagnosis);
        assert_eq!((link.name.as_str(), link.freedom), ("L1", 0));
        assert!(link.smallest > 0.0);
        assert_eq!(diagnosis.exact.rank, 6);
    }

    #[test]
    fn a_link_stays_while_the_body_reaches_it() {
        let scene = scene();
        let eye = Drawable::of(&scene).unwrap().named().next().unwrap();
        let ground = Coordinates::Space([0.0, -500.0, 0.0]);
        let diagnosis = Diagnosis::new(&Model::new(&scene).unwrap(), Tolerance::default());
        let link = AddedLink::drawn("L1".to_owned(), eye.clone(), ground, &diagnosis);
        assert_eq!(link.eye_in(&scene), Some(eye));
        let changed = |from: &str, to: &str| {
            let text = RAIL.replace(from, to);
            link.eye_in(&read_str("rail", &text).unwrap().scene)
        };
        let moved = changed("\"A\": (0, 0, 0)", "\"A\": (0, 0, 100)");
        assert_eq!(moved.unwrap().point, Point3::new(0.0, 0.0, 0.1));
        assert_eq!(changed("\"A\"", "\"C\""), None, "it lacks the named point");
        let elsewhere = changed("path: [\"A\", (0, 0, 1000)", "path: [(1000, 0, 1000)");
        assert_eq!(elsewhere, None, "the body ends far away");
        let written = "supports: [Link(name: \"new\", at: \"A\", ground: (0, -500, 0)), ";
        assert_eq!(changed("supports: [", written), None, "the scene has it");
    }
}
