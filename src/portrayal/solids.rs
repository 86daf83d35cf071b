//! Supports as solids: balls, rings, knuckles, rods and hatched pieces of ground. Lengths in units of the layout.

use nalgebra::{Point3, Unit, Vector3};

use super::axes::{across, along_ground};
use super::carrier::Carrier::{self, Body, Ground};
use super::hardware_builder::HardwareBuilder;
use super::shape::{HardwareShape, Station};

type Solids<'a> = HardwareBuilder<'a, HardwareShape>;

/// Half the side of a piece of ground.
const GROUND: f64 = 9.0;
/// Distance between lines of hatching.
const SPACING: f64 = 3.2;
/// Half the length of a rail, and of the rod of a slider.
const RAIL: f64 = 22.0;
const ROD: f64 = 26.0;

impl Solids<'_> {
    fn ball(&mut self, carrier: Carrier, centre: Point3<f64>, radius: f64) {
        let radius = radius * self.unit();
        self.add(carrier, HardwareShape::Ball { centre, radius });
    }

    fn bar(&mut self, carrier: Carrier, ends: [Point3<f64>; 2], radius: f64) {
        if ends[0] != ends[1] {
            let radius = radius * self.unit();
            self.add(carrier, HardwareShape::Rod { ends, radius });
        }
    }

    /// Turned piece along a direction from the held point.
    fn turned(&mut self, carrier: Carrier, axis: &Vector3<f64>, stations: &[(f64, f64, bool)]) {
        let unit = self.unit();
        let station = |(along, radius, edge): &(f64, f64, bool)| Station {
            along: along * unit,
            radius: radius * unit,
            edge: *edge,
        };
        let shape = HardwareShape::Turned {
            from: self.at(),
            axis: *axis,
            stations: stations.iter().map(station).collect(),
        };
        self.add(carrier, shape);
    }

    fn ring(
        &mut self,
        carrier: Carrier,
        (axis, shift): (&Vector3<f64>, f64),
        radii: [f64; 2],
        width: f64,
        square: bool,
    ) {
        let shape = HardwareShape::Ring {
            centre: self.point(axis, shift),
            axis: *axis,
            radii: radii.map(|radius| radius * self.unit()),
            width: width * self.unit(),
            square,
        };
        self.add(carrier, shape);
    }

    fn block(&mut self, carrier: Carrier, centre: Point3<f64>, halves: [Vector3<f64>; 3]) {
        let halves = halves.map(|half| half * self.unit());
        self.add(carrier, HardwareShape::Block { centre, halves });
    }

    fn prism(&mut self, carrier: Carrier, outline: Vec<Point3<f64>>, sweep: Vector3<f64>) {
        let sweep = sweep * self.unit();
        self.add(carrier, HardwareShape::Prism { outline, sweep });
    }

    /// Square piece of ground that faces a normal.
    fn ground(&mut self, centre: Point3<f64>, normal: &Vector3<f64>, half: f64) {
        self.rectangle(centre, along_ground(normal), [[-half, half]; 2], 0.0);
    }

    /// Ground on which something slides that is carried at the held point.
    fn floor(&mut self, centre: Point3<f64>, normal: &Vector3<f64>, half: f64) {
        let axes = along_ground(normal);
        let spans = axes.each_ref().map(|axis| self.span(axis, half));
        // Floors that run into each other are hatched as one.
        let phase = match spans == [[-half, half]; 2] {
            true => 0.0,
            false => -centre.coords.dot(&(axes[0] + axes[1])),
        };
        self.rectangle(centre, axes, spans, phase);
    }

    fn rectangle(
        &mut self,
        centre: Point3<f64>,
        axes: [Vector3<f64>; 2],
        spans: [[f64; 2]; 2],
        phase: f64,
    ) {
        self.foot.get_or_insert(centre);
        let shape = HardwareShape::Ground {
            centre,
            axes,
            spans: spans.map(|span| span.map(|units| units * self.unit())),
            spacing: SPACING * self.unit(),
            phase,
        };
        self.add(Ground, shape);
    }
}

/// Ball of the body in a socket on the ground.
pub(super) fn ball_joint(bench: &mut Solids) {
    let down = bench.away();
    bench.turned(
        Ground,
        &down,
        &[
            (2.2, 3.9, false),
            (2.2, 4.6, true),
            (5.0, 4.6, false),
            (9.0, 6.0, true),
        ],
    );
    bench.ball(Body, bench.at(), 3.9);
    bench.ground(bench.point(&down, 9.0), &-down, GROUND);
}

/// Knuckles on a pin; with heads where sliding along it is stopped, else with play between the knuckles.
pub(super) fn hinge(bench: &mut Solids, heads: bool) {
    let axis = bench.axis();
    let down = bench.away_from_axis(&axis);
    let side = axis.cross(&down);
    bench.turned(Ground, &axis, &[(-8.0, 3.4, true), (-3.0, 3.4, true)]);
    bench.turned(Body, &axis, &[(-3.0, 3.4, true), (3.0, 3.4, true)]);
    bench.turned(Ground, &axis, &[(3.0, 3.4, true), (8.0, 3.4, true)]);
    let pin = if heads { 10.0 } else { 14.0 };
    bench.bar(Ground, [-pin, pin].map(|end| bench.point(&axis, end)), 1.3);
    if heads {
        for end in [-1.0, 1.0] {
            bench.turned(
                Ground,
                &(axis * end),
                &[(9.5, 3.0, true), (11.5, 3.0, true)],
            );
        }
    }
    let centre = bench.point(&down, 6.5);
    bench.block(Ground, centre, [axis * 3.0, side * 1.0, down * 4.0]);
    bench.ground(bench.point(&down, 10.5), &-down, GROUND);
}

/// Housing around a shaft, with collars on the shaft where it takes thrust.
pub(super) fn bearing(bench: &mut Solids, thrust: bool, square: bool) {
    let axis = bench.axis();
    let down = bench.away_from_axis(&axis);
    let side = axis.cross(&down);
    let inner = bench.girth(&axis);
    let outer = inner + 3.0;
    bench.ring(Ground, (&axis, 0.0), [inner, outer], 7.0, square);
    if thrust {
        for end in [-1.0, 1.0] {
            let collar = [inner.min(outer - 2.0) * 0.6, outer - 1.2];
            bench.ring(Body, (&axis, 5.6 * end), collar, 2.4, square);
        }
    }
    let foot = outer + 4.5;
    let centre = bench.point(&down, (outer + foot) / 2.0 - 0.4);
    bench.block(
        Ground,
        centre,
        [axis * 2.0, side * 2.6, down * ((foot - outer) / 2.0 + 0.4)],
    );
    bench.ground(bench.point(&down, foot), &-down, GROUND);
}

/// Pin through two plates on the ground.
pub(super) fn clevis(bench: &mut Solids) {
    let axis = bench.axis();
    let down = bench.away_from_axis(&axis);
    let side = axis.cross(&down);
    for end in [-1.0, 1.0] {
        let centre = bench.point(&axis, 5.5 * end) + down * (3.5 * bench.unit());
        bench.block(Ground, centre, [axis * 1.0, side * 3.6, down * 7.0]);
    }
    bench.bar(Ground, [-9.5, 9.5].map(|end| bench.point(&axis, end)), 1.6);
    bench.ground(bench.point(&down, 10.5), &-down, GROUND);
}

/// Sleeve of the body on a rod between two walls.
pub(super) fn slider(bench: &mut Solids) {
    let rod = bench.axis();
    let inner = (bench.girth(&rod) - 2.0).clamp(1.7, 5.0);
    bench.ring(Body, (&rod, 0.0), [inner, inner + 2.2], 12.0, false);
    let ends = bench.span(&rod, ROD).map(|end| bench.point(&rod, end));
    for (end, inwards) in ends.into_iter().zip([1.0, -1.0]) {
        bench.ground(end, &(rod * inwards), GROUND * 0.75);
    }
    bench.bar(Ground, ends, 1.6);
}

/// Cross between the fork of the ground and the body.
pub(super) fn universal(bench: &mut Solids) {
    let axis = bench.axis();
    let out = bench.freest(&[-axis, axis], [6.0, 16.0]);
    let [x, y] = across(&out);
    bench.bar(Ground, [-5.5, 5.5].map(|end| bench.point(&x, end)), 1.2);
    bench.bar(Body, [-5.5, 5.5].map(|end| bench.point(&y, end)), 1.2);
    for end in [-1.0, 1.0] {
        let centre = bench.point(&x, 5.0 * end) + out * (3.0 * bench.unit());
        bench.block(Ground, centre, [x * 0.8, y * 2.0, out * 4.5]);
    }
    bench.turned(Ground, &out, &[(7.0, 5.6, true), (9.0, 5.6, true)]);
    bench.turned(Ground, &out, &[(9.0, 2.0, false), (15.0, 2.0, true)]);
    bench.ground(bench.point(&out, 15.0), &-out, GROUND);
}

/// Wheel on a rail; the rail reaches as far as the wheel rolls.
pub(super) fn rail_wheel(bench: &mut Solids) {
    let rail = bench.axis();
    let normal = bench
        .support
        .normal
        .map_or_else(Vector3::z, Unit::into_inner);
    let (side, rider) = (rail.cross(&normal), bench.rider());
    bench.turned(
        rider,
        &side,
        &[
            (-2.6, 6.0, true),
            (-2.6, 7.2, true),
            (-1.4, 7.2, true),
            (-1.4, 5.6, false),
            (2.4, 5.6, true),
        ],
    );
    bench.bar(rider, [-4.0, 4.0].map(|end| bench.point(&side, end)), 1.3);
    let [low, high] = bench.span(&rail, RAIL);
    let (middle, half) = ((low + high) / 2.0, (high - low) / 2.0);
    let centre = bench.point(&normal, -7.4) + rail * (middle * bench.unit());
    bench.block(Ground, centre, [rail * half, side * 1.2, normal * 1.8]);
    let foot = bench.point(&normal, -9.2);
    bench.foot = Some(foot);
    for at in [low + 5.0, middle, high - 5.0] {
        bench.ground(foot + rail * (at * bench.unit()), &normal, 5.0);
    }
}

/// Block cast into the ground.
pub(super) fn fixed(bench: &mut Solids) {
    let down = bench.away();
    let [x, y] = across(&down);
    let centre = bench.point(&down, 2.5);
    bench.block(Ground, centre, [x * 6.5, y * 6.5, down * 3.0]);
    bench.ground(bench.point(&down, 5.5), &-down, GROUND * 1.15);
}

/// Plate of its own size on a wall, with a head for each anchor.
pub(super) fn anchor_plate(bench: &mut Solids) {
    let Some(group) = bench.support.anchors.clone() else {
        return fixed(bench);
    };
    let (unit, at) = (bench.unit(), bench.at());
    let [right, up, normal] = group.axes.map(Unit::into_inner);
    let [width, height] = group.size;
    let halves = [
        right * (width / 2.0),
        up * (height / 2.0),
        normal * (THICK * unit),
    ];
    let centre = at + halves[2];
    bench.add(Ground, HardwareShape::Block { centre, halves });
    for place in &group.places {
        let head = HardwareShape::Turned {
            from: group.point(&at, place) + normal * (2.0 * THICK * unit),
            axis: normal,
            stations: [(0.0, HEAD), (0.8, HEAD)]
                .map(|(along, radius)| Station {
                    along: along * unit,
                    radius: radius * unit,
                    edge: true,
                })
                .into(),
        };
        bench.add(Ground, head);
    }
    let half = width.max(height) / (2.0 * unit);
    bench.ground(at, &normal, half.max(GROUND) * 1.15);
}

/// Half the thickness of an anchor plate.
const THICK: f64 = 0.5;
/// Radius of the head of an anchor.
const HEAD: f64 = 1.1;

/// Ball between the body and a floor, in the plane a cylinder.
pub(super) fn roller(bench: &mut Solids) {
    let (normal, rider) = (bench.axis(), bench.rider());
    let centre = bench.point(&normal, -4.2);
    if bench.is_planar() {
        let half = Vector3::z() * (3.2 * bench.unit());
        bench.bar(rider, [centre - half, centre + half], 4.2);
    } else {
        bench.ball(rider, centre, 4.2);
    }
    bench.floor(bench.point(&normal, -8.4), &normal, GROUND);
}

/// Shoe between the body and a floor: pointed where it is smooth, stepped where it is rough.
pub(super) fn contact(bench: &mut Solids, rough: bool) {
    let normal = bench.axis();
    let down = -normal;
    let stations: &[(f64, f64, bool)] = if rough {
        &[
            (0.0, 1.6, true),
            (2.0, 3.2, true),
            (4.0, 3.2, true),
            (6.0, 4.8, true),
        ]
    } else {
        &[(0.0, 0.6, false), (6.0, 4.8, true)]
    };
    bench.turned(bench.rider(), &down, stations);
    bench.floor(bench.point(&down, 6.0), &normal, GROUND);
}

/// The ground behind the far eye of a link or cable: on the wall or floor that it shares with others, else across its line.
fn anchor(bench: &mut Solids, ground: Point3<f64>, eye: f64) -> bool {
    let Some(way) = (ground - bench.at()).try_normalize(0.0) else {
        return false;
    };
    let into = bench.shared_wall(&ground, &way).unwrap_or(way);
    let back = ground + into * (eye * bench.unit());
    bench.ground(back, &-into, GROUND * 0.8);
    true
}

impl Solids<'_> {
    fn eye(&mut self, carrier: Carrier, centre: Point3<f64>, ground: Point3<f64>, radius: f64) {
        let along = (ground - self.at()).try_normalize(0.0);
        // Seen as a ring from the front.
        let wish = match self.is_planar() {
            true => Vector3::z(),
            false => -Vector3::y(),
        };
        let square = along.map(|along| wish - along * along.dot(&wish));
        let pin = match (square, along) {
            (Some(square), _) if square.norm() > 0.2 => square.normalize(),
            (_, Some(along)) => across(&along)[0],
            _ => wish,
        };
        let radius = radius * self.unit();
        let shape = HardwareShape::Eye {
            centre,
            pin,
            radius,
        };
        self.add(carrier, shape);
    }
}

/// Rod with an eye at each end.
pub(super) fn link(bench: &mut Solids) {
    let ground = bench.support.ground.unwrap_or(bench.at());
    if anchor(bench, ground, 2.6) {
        bench.bar(bench.rod(ground), [bench.at(), ground], 1.5);
    }
    bench.eye(Body, bench.at(), ground, 2.6);
    bench.eye(Ground, ground, ground, 2.6);
}

/// Thin line from an eye on the body.
pub(super) fn cable(bench: &mut Solids) {
    let ground = bench.support.ground.unwrap_or(bench.at());
    anchor(bench, ground, 0.0);
    bench.eye(Body, bench.at(), ground, 1.8);
    let ends = [bench.at(), ground];
    bench.add(bench.rod(ground), HardwareShape::Cord { ends });
}

/// Half the depth of hardware of the plane.
const DEPTH: f64 = 4.5;

/// Directions of the plane at a held point: across and along a direction, and out of the plane.
fn plane(up: Vector3<f64>) -> [Vector3<f64>; 3] {
    [Vector3::new(up.y, -up.x, 0.0), up, Vector3::z()]
}

/// Pin of the body in a bracket, in the plane.
pub(super) fn bracket(bench: &mut Solids) {
    let [right, up, out] = plane(bench.body_side(false));
    let corners = [
        (-6.0, -7.7),
        (6.0, -7.7),
        (2.6, 0.7),
        (0.0, 3.0),
        (-2.6, 0.7),
    ];
    for near in [1.9, -3.15] {
        let corner = |(x, y): (f64, f64)| bench.point(&(right * x + up * y + out * near), 1.0);
        let outline = corners.map(corner).to_vec();
        bench.prism(Ground, outline, out * 1.25);
    }
    bench.ring(Body, (&out, 0.0), [1.4, 3.0], 3.5, false);
    bench.bar(Body, [-3.85, 3.85].map(|end| bench.point(&out, end)), 1.5);
    let spans = [[-8.0, 8.0], [-DEPTH, DEPTH]];
    bench.rectangle(
        bench.point(&up, -7.7),
        [right, up.cross(&right)],
        spans,
        0.0,
    );
}

/// Sector that rolls on the ground, in the plane.
pub(super) fn rocker(bench: &mut Solids) {
    let ([right, up, out], rider) = (plane(bench.axis()), bench.rider());
    let corner = |x: f64, y: f64| bench.point(&(right * x + up * y - out * 2.45), 1.0);
    let mut outline = vec![corner(0.0, 0.0)];
    outline.extend((0..=16).map(|i| {
        let (sin, cos) = (-130.0 + 5.0 * f64::from(i)).to_radians().sin_cos();
        corner(8.0 * cos, 8.0 * sin)
    }));
    bench.prism(rider, outline, out * 4.9);
    bench.bar(rider, [-2.8, 2.8].map(|end| bench.point(&out, end)), 1.75);
    bench.floor(bench.point(&up, -8.0), &up, GROUND);
}

/// Pin of the body in a slot between two cheeks of the ground, in the plane.
pub(super) fn slot(bench: &mut Solids) {
    let [side, along, out] = plane(bench.axis());
    bench.bar(
        bench.rider(),
        [-3.15, 3.15].map(|end| bench.point(&out, end)),
        1.95,
    );
    let [low, high] = bench.span(&along, 9.4);
    let (middle, half) = (bench.point(&along, (low + high) / 2.0), (high - low) / 2.0);
    for way in [side, -side] {
        let centre = middle + way * (3.0 * bench.unit());
        bench.block(Ground, centre, [along * half, way * 0.95, out * 1.9]);
    }
    for end in [low, high] {
        let halves = [along * 0.95, side * 3.9, out * 1.9];
        bench.block(Ground, bench.point(&along, end), halves);
    }
    let down = bench.freest(&[side, -side], [6.0, 14.0]);
    let spans = [[-half - 1.0, half + 1.0], [-3.15, 3.15]];
    let centre = middle + down * (3.95 * bench.unit());
    bench.foot = Some(bench.point(&down, 3.95));
    bench.rectangle(centre, [along, along.cross(&down)], spans, 0.0);
}

/// Collar of the body on a rod between two walls, in the plane.
pub(super) fn collar(bench: &mut Solids) {
    let [side, rod, out] = plane(bench.axis());
    bench.block(
        bench.rider(),
        bench.at(),
        [rod * 4.2, side * 3.0, out * 2.8],
    );
    let ends = bench.span(&rod, ROD).map(|end| bench.point(&rod, end));
    for (end, inwards) in ends.into_iter().zip([1.0, -1.0]) {
        bench.ground(end, &(rod * inwards), GROUND * 0.75);
    }
    bench.bar(Ground, ends, 1.6);
}
