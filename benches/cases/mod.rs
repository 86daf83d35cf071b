//! Scenes of any number of links, made by a fixed rule, and the random numbers of it.

use sixhold::scene::{
    Block, Coordinates, ForceVector, Load, Place, Scene, Shape, Support, SupportKind, builtin,
    read_str,
};

/// A built-in scene.
pub(crate) fn built_in(name: &str) -> Scene {
    let text = builtin::find(name).map_or("", |scene| scene.text);
    read_str(name, text).expect("the scene is valid").scene
}

/// The same number of links once placed at random and once so that all of them meet one line.
pub(crate) fn families(links: usize) -> [(&'static str, Scene); 2] {
    let mut numbers = Numbers(1);
    let mut scatter = Vec::new();
    let mut meeting = Vec::new();
    for index in 0..links {
        let body = [numbers.next(), numbers.next(), numbers.next()];
        scatter.push(link(
            index,
            body,
            [numbers.next(), numbers.next(), numbers.next()],
        ));
        // The ground end lies on the z axis: every link meets that line.
        meeting.push(link(index, body, [0.0, 0.0, numbers.next()]));
    }
    [
        ("held", scene(scatter)),
        ("meeting one line", scene(meeting)),
    ]
}

fn scene(supports: Vec<Support>) -> Scene {
    Scene {
        title: "Instrument block on links".into(),
        body: vec![Shape::Block(Block {
            centre: at([0.0; 3]),
            size: [2.0; 3],
            lengthwise: None,
            upright: None,
        })],
        supports,
        loads: vec![Load::Force {
            at: at([0.1, 0.2, 0.3]),
            force: ForceVector::Components(Coordinates::Space([0.0, 0.0, -100.0])),
        }],
        ..Scene::default()
    }
}

fn link(index: usize, body: [f64; 3], ground: [f64; 3]) -> Support {
    Support {
        name: format!("L{index}"),
        at: at(body),
        kind: SupportKind::Link { ground: at(ground) },
        stiffness: Default::default(),
        allowable: None,
    }
}

fn at(position: [f64; 3]) -> Place {
    Place::At(Coordinates::Space(position))
}

/// Multiples of a thousandth between −1 and 1, as a user would write them (Park & Miller's generator).
pub(crate) struct Numbers(pub u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        (self.below(2001) as f64 - 1000.0) / 1000.0
    }

    /// A whole number below `count`.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        (self.0 % count as u64) as usize
    }
}
