//! The theme on the panels: colours, type sizes, and a scale that follows the window, so that a hall's screen and a
//! laptop show the same picture.

use std::collections::BTreeSet;

use bevy::asset::AssetEventSystems;
use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_egui::egui::{
    self, Color32, CornerRadius, FontFamily, FontId, Margin, Stroke, TextStyle, Visuals,
};
use bevy_egui::{EguiContexts, EguiPostUpdateSet, EguiPreUpdateSet};

use super::fonts;
use super::intent::{Layer, LookIntent, add_messages};
use super::shown::Written;
use super::state::{Look, Playback, ViewerSystems};
use crate::theme::{Colour, Theme, ThemeName};

/// Applies theme and text size to everything that egui draws, and the background.
pub(crate) struct SkinPlugin;

impl Plugin for SkinPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        // Letters seen for the first time reach the card in the frame that writes them, not in the next.
        app.configure_sets(
            PostUpdate,
            EguiPostUpdateSet::PostProcessOutput.before(AssetEventSystems),
        )
        .init_resource::<TextSize>()
        .add_systems(Update, follow_intents.in_set(ViewerSystems::Input))
        .add_systems(Update, paint_background.after(ViewerSystems::Input))
        // Faces and sizes hold for a whole pass, so they are there before it begins.
        .add_systems(
            PreUpdate,
            dress
                .after(EguiPreUpdateSet::InitContexts)
                .before(EguiPreUpdateSet::BeginPass),
        );
    }
}

/// The family of the bold face.
pub(crate) static BOLD: std::sync::LazyLock<FontFamily> =
    std::sync::LazyLock::new(|| FontFamily::Name(fonts::BOLD_FAMILY.into()));

/// How much larger than usual the user wants text.
#[derive(Resource, Debug, Clone, Copy, PartialEq)]
pub(crate) struct TextSize(pub f32);

impl Default for TextSize {
    fn default() -> Self {
        Self(1.0)
    }
}

/// Least and greatest text size.
const TEXT_SIZES: [f32; 2] = [0.7, 2.0];
/// Window for which sizes are laid out; others scale them, so that text takes the same share of every screen.
const USUAL_WINDOW: Vec2 = Vec2::new(1280.0, 720.0);
/// Least and greatest scale by the window alone.
const SCALES: [f32; 2] = [0.75, 6.0];

/// A theme colour for egui.
pub(crate) fn colour32(colour: Colour) -> Color32 {
    Color32::from_rgb(colour.0, colour.1, colour.2)
}

/// A theme colour for bevy.
pub(crate) fn bevy_colour(colour: Colour) -> Color {
    Color::srgb_u8(colour.0, colour.1, colour.2)
}

/// Scale of text and panels in a window of a logical size.
pub(crate) fn scale(window: Vec2, wanted: f32) -> f32 {
    let by_window = (window / USUAL_WINDOW).min_element();
    // Rounded to steps in which letters stay sharp and nothing is laid out anew for every pixel of a resize.
    let stepped = (by_window.clamp(SCALES[0], SCALES[1]) * wanted * 32.0).round() / 32.0;
    stepped.max(0.25)
}

fn follow_intents(
    mut intents: MessageReader<LookIntent>,
    mut look: ResMut<Look>,
    mut size: ResMut<TextSize>,
    mut playback: ResMut<Playback>,
) {
    for intent in intents.read() {
        match intent {
            LookIntent::Theme(theme) => look.theme = *theme,
            LookIntent::Layer(layer, shown) => *layer_of(&mut look, *layer) = *shown,
            LookIntent::ToggleLayer(layer) => {
                let drawn = layer_of(&mut look, *layer);
                *drawn = !*drawn;
                // What is cut free shows what was cut.
                look.reactions |= *layer == Layer::Supports && !look.supports;
                look.reactions |= *layer == Layer::Values && look.values;
            }
            LookIntent::ReducedMotion(reduced) => {
                look.reduced_motion = *reduced;
                playback.playing &= !reduced;
            }
            LookIntent::Enlarge(by) => {
                size.0 = (size.0 * by).clamp(TEXT_SIZES[0], TEXT_SIZES[1]);
            }
            LookIntent::UsualSize => size.0 = 1.0,
            // Of the window.
            LookIntent::FullScreen => {}
        }
    }
}

fn layer_of(look: &mut Look, layer: Layer) -> &mut bool {
    match layer {
        Layer::Supports => &mut look.supports,
        Layer::Reactions => &mut look.reactions,
        Layer::Values => &mut look.values,
        Layer::Loads => &mut look.loads,
        Layer::Motion => &mut look.motion,
    }
}

fn paint_background(look: Res<Look>, mut clear: ResMut<ClearColor>) {
    if look.is_changed() {
        clear.0 = bevy_colour(Theme::of(look.theme).background);
    }
}

fn dress(
    mut contexts: EguiContexts,
    look: Res<Look>,
    size: Res<TextSize>,
    window: Option<Single<&Window, With<PrimaryWindow>>>,
    written: Option<Res<Written>>,
    mut done: Local<Option<(ThemeName, bool)>>,
    mut foreign: Local<BTreeSet<char>>,
) {
    let Ok(ctx) = contexts.ctx_mut() else { return };
    if done.is_none() {
        fonts::install(ctx);
        settle(ctx);
    }
    if let Some(written) = written
        && written.is_changed()
    {
        let letters = fonts::foreign_letters(written.0.scene());
        if *foreign != letters {
            fonts::install_for(ctx, &letters);
            *foreign = letters;
        }
    }
    let wanted = Some((look.theme, look.reduced_motion));
    if *done != wanted {
        *done = wanted;
        set_style(ctx, &Theme::of(look.theme), look.reduced_motion);
    }
    if let Some(window) = window {
        ctx.set_zoom_factor(scale(window.size(), size.0));
    }
}

/// What egui should leave to us, or not do.
fn settle(ctx: &egui::Context) {
    ctx.options_mut(|options| {
        options.zoom_with_keyboard = false;
        // A click that wakes the window may arrive long after its press.
        options.input_options.max_click_duration = f64::INFINITY;
    });
}

fn set_style(ctx: &egui::Context, theme: &Theme, still: bool) {
    let dark = is_dark(theme);
    let egui_theme = if dark {
        egui::Theme::Dark
    } else {
        egui::Theme::Light
    };
    ctx.set_theme(egui_theme);
    ctx.all_styles_mut(|style| {
        style.visuals = visuals(theme, dark);
        style.animation_time = if still { 0.0 } else { 0.2 };
        style.text_styles = [
            (TextStyle::Heading, FontId::new(20.0, BOLD.clone())),
            (TextStyle::Body, FontId::proportional(16.0)),
            (TextStyle::Button, FontId::proportional(16.0)),
            (TextStyle::Monospace, FontId::proportional(16.0)),
            (TextStyle::Small, FontId::proportional(13.5)),
        ]
        .into();
        style.spacing.item_spacing = egui::vec2(10.0, 7.0);
        style.spacing.button_padding = egui::vec2(9.0, 4.0);
        style.spacing.slider_width = 110.0;
        style.interaction.selectable_labels = false;
        // Its shade is wrong on a light theme.
        style.spacing.scroll.fade.strength = 0.0;
    });
}

fn luminance(colour: Colour) -> f64 {
    let [r, g, b] = colour.linear();
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

fn visuals(theme: &Theme, dark: bool) -> Visuals {
    let mut visuals = if dark {
        Visuals::dark()
    } else {
        Visuals::light()
    };
    let (ink, quiet) = (colour32(theme.ink), colour32(theme.quiet_ink));
    let (surface, background) = (colour32(theme.surface), colour32(theme.background));
    visuals.override_text_color = None;
    visuals.weak_text_color = Some(quiet);
    visuals.panel_fill = surface;
    visuals.window_fill = surface;
    visuals.window_stroke = Stroke::new(1.0, quiet);
    visuals.extreme_bg_color = background;
    visuals.faint_bg_color = background;
    visuals.error_fg_color = colour32(theme.error);
    visuals.warn_fg_color = colour32(theme.group);
    visuals.hyperlink_color = colour32(theme.reaction);
    visuals.selection.bg_fill = mixed(surface, ink, 0.16);
    visuals.selection.stroke = Stroke::new(1.5, ink);
    let lines = mixed(surface, ink, 0.3);
    let widgets = [
        (&mut visuals.widgets.noninteractive, 0.0_f32, ink),
        (&mut visuals.widgets.inactive, 0.08, ink),
        (&mut visuals.widgets.hovered, 0.16, ink),
        (&mut visuals.widgets.active, 0.24, ink),
        (&mut visuals.widgets.open, 0.12, ink),
    ];
    for (widget, share, text) in widgets {
        widget.bg_fill = mixed(surface, ink, share.max(0.12));
        widget.weak_bg_fill = mixed(surface, ink, share);
        widget.bg_stroke = Stroke::new(1.0, lines);
        widget.fg_stroke = Stroke::new(1.5, text);
        widget.corner_radius = CornerRadius::same(4);
        widget.expansion = 0.0;
    }
    visuals
}

/// A mixture of two colours, `share` of the second.
pub(crate) fn mixed(a: Color32, b: Color32, share: f32) -> Color32 {
    a.lerp_to_gamma(b, share)
}

/// A colour that covers this share of what is behind it. Screens mix light, so the share is one of light.
pub(crate) fn veil(colour: Color32, share: f32) -> Color32 {
    let light = egui::Rgba::from(colour);
    let part = |light: f32| egui::ecolor::gamma_u8_from_linear_f32(light * share);
    let alpha = (255.0 * share).round() as u8;
    Color32::from_rgba_premultiplied(part(light.r()), part(light.g()), part(light.b()), alpha)
}

/// Whether a theme is light on dark.
pub(crate) fn is_dark(theme: &Theme) -> bool {
    luminance(theme.background) < 0.5
}

/// Room at the sides of a panel, and above and below.
const PANEL_MARGINS: [i8; 2] = [18, 14];
/// Height over which a list in a drawer fades where it goes on below; its last line has as much room below it.
pub(crate) const DRAWER_FADE: f32 = 36.0;

/// Frame of a panel in the theme's colours.
pub(crate) fn panel_frame(theme: &Theme) -> egui::Frame {
    let [sides, ends] = PANEL_MARGINS;
    egui::Frame::new()
        .fill(colour32(theme.surface))
        .inner_margin(Margin::symmetric(sides, ends))
}

/// Where what is in a panel ends below.
pub(crate) fn panel_foot(panel: egui::Rect) -> f32 {
    panel.bottom() - f32::from(PANEL_MARGINS[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_takes_the_same_share_of_every_screen() {
        assert_eq!(scale(Vec2::new(1280.0, 720.0), 1.0), 1.0);
        assert_eq!(scale(Vec2::new(3840.0, 2160.0), 1.0), 3.0);
        assert_eq!(scale(Vec2::new(3840.0, 720.0), 1.0), 1.0);
        assert_eq!(scale(Vec2::new(1280.0, 720.0), 1.5), 1.5);
    }

    #[test]
    fn a_tiny_window_still_has_legible_text() {
        assert!(scale(Vec2::new(300.0, 100.0), 1.0) >= 0.75);
    }

    #[test]
    fn layers_are_switched_by_intents() {
        let mut app = App::new();
        add_messages(&mut app);
        app.insert_resource(Look::new(ThemeName::Hall))
            .init_resource::<TextSize>()
            .init_resource::<Playback>()
            .add_systems(Update, follow_intents);
        app.world_mut()
            .write_message(LookIntent::ToggleLayer(Layer::Loads));
        app.world_mut()
            .write_message(LookIntent::Theme(ThemeName::Stark));
        app.world_mut().write_message(LookIntent::Enlarge(100.0));
        app.update();
        let look = app.world().resource::<Look>();
        assert!(!look.loads && look.reactions && look.motion);
        assert_eq!(look.theme, ThemeName::Stark);
        assert_eq!(app.world().resource::<TextSize>().0, TEXT_SIZES[1]);
    }
}
