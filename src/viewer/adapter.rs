//! The graphics driver: found before anything is built, so that its absence is a message and not a crash.

use std::panic;
use std::sync::Arc;

use bevy::prelude::*;
use bevy::render::renderer::initialize_renderer;
use bevy::render::settings::{Backends, PowerPreference, RenderResources, WgpuSettings};

/// The driver to draw with, a software one if asked for; `None` where there is none.
///
/// bevy's own search panics where there is none; that panic, and no other, is caught here.
pub(crate) fn find(software: bool) -> Option<RenderResources> {
    let settings = WgpuSettings {
        power_preference: PowerPreference::LowPower,
        force_fallback_adapter: software,
        ..default()
    };
    let backends = settings.backends.unwrap_or(Backends::all());
    let asking = std::thread::current().id();
    let usual = Arc::new(panic::take_hook());
    let others = usual.clone();
    panic::set_hook(Box::new(move |info| {
        if std::thread::current().id() != asking {
            others(info);
        }
    }));
    let found = panic::catch_unwind(|| {
        bevy::tasks::block_on(initialize_renderer(backends, None, &settings))
    });
    panic::set_hook(Box::new(move |info| usual(info)));
    found.ok()
}

/// Whether a driver draws on the processor.
pub(crate) fn is_software(resources: &RenderResources) -> bool {
    // The type of this field is not re-exported by bevy, so it is told by its name.
    format!("{:?}", resources.2.device_type) == "Cpu"
}
