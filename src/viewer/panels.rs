//! Puts the panels together around the scene, and passes on what they are asked for.

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use bevy_egui::egui::{self, Align2, Id, Margin, UiBuilder};
use bevy_egui::{EguiContexts, EguiPrimaryContextPass};

use super::camera::{CurrentView, FreeArea};
use super::caption::{Caption, caption_ui};
use super::handouts::{Handouts, handouts_ui};
use super::intent::{CloseAll, Intent, Intents, Panel, PanelIntent, add_messages};
use super::ledger::{Page, Veil, figures_ui, pages_ui};
use super::making::{Bench, Files, add_ui, form_ui, is_silent};
use super::notice::{keys_ui, trouble_ui};
use super::pointer::Covered;
use super::practising::{self, Practising};
use super::redraw::FramesToDraw;
use super::scene_list::SceneList;
use super::scenes::scenes_ui;
use super::shown::ShownParam;
use super::skin::{colour32, panel_frame, veil};
use super::state::{Look, Playback, Pointed, Shown, Source, Trouble, ViewerSystems};
use super::trial::LinkDrawing;
use super::unveiling::Unveiling;
use crate::motion::Sides;
use crate::scene::Space;
use crate::statics::Placement;
use crate::theme::Theme;
use crate::wording::{self, Phrase, phrase};

/// Draws every panel.
pub(crate) struct PanelsPlugin;

impl Plugin for PanelsPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<Open>()
            .init_resource::<FreeArea>()
            .init_resource::<Covered>()
            .add_systems(Update, follow_intents.in_set(ViewerSystems::Input))
            .add_systems(
                EguiPrimaryContextPass,
                show_panels.in_set(PanelSystems::Panels),
            );
    }
}

/// Order of what is drawn by egui.
#[derive(SystemSet, Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum PanelSystems {
    /// Panels are drawn and leave the free area; labels follow.
    Panels,
    /// Names and values are drawn; marks at what can be dragged come over them.
    Labels,
}

/// Which panels are open.
#[derive(Resource, Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Open {
    /// The ledger's pages.
    pub ledger: bool,
    /// The scenes.
    pub scenes: bool,
    /// The list of keys.
    pub keys: bool,
    /// What can be added.
    pub add: bool,
    /// What can be taken home.
    pub handouts: bool,
    path: String,
    /// Whether the scenes were opened or closed after the ledger.
    scenes_last: bool,
}

impl Open {
    /// Closes the older of two drawers that leave the scene less than its least width.
    fn make_room(&mut self, width: f32) {
        let left = width - FIGURES_WIDTH - LEDGER_WIDTH - SCENES_WIDTH;
        if self.ledger && self.scenes && left < LEAST_WIDTH {
            (self.ledger, self.scenes) = (!self.scenes_last, self.scenes_last);
        }
    }
}

/// Widths of the panels at the usual size.
const FIGURES_WIDTH: f32 = 136.0;
const LEDGER_WIDTH: f32 = 400.0;
const SCENES_WIDTH: f32 = 340.0;
/// Width that two open drawers leave to the scene at least.
const LEAST_WIDTH: f32 = 450.0;
/// Height over which the picture fades into the caption.
const FADE: f32 = 56.0;
const FADE_STEPS: u32 = 12;

fn follow_intents(
    mut intents: MessageReader<PanelIntent>,
    mut closed: MessageReader<CloseAll>,
    mut open: ResMut<Open>,
) {
    for intent in intents.read() {
        match intent {
            PanelIntent::Toggle(Panel::Ledger) => {
                open.ledger = !open.ledger;
                open.scenes_last = false;
            }
            PanelIntent::Toggle(Panel::Scenes) => {
                open.scenes = !open.scenes;
                open.scenes_last = true;
            }
            PanelIntent::Toggle(Panel::Keys) => open.keys = !open.keys,
            PanelIntent::Toggle(Panel::Add) => open.add = !open.add,
            PanelIntent::Toggle(Panel::Handouts) => open.handouts = !open.handouts,
        }
    }
    if closed.read().count() > 0 {
        // The path that is being typed stays.
        let path = std::mem::take(&mut open.path);
        *open = Open {
            path,
            ..Open::default()
        };
    }
}

/// What the panels show.
#[derive(SystemParam)]
struct Contents<'w> {
    shown: ShownParam<'w>,
    playback: Res<'w, Playback>,
    look: Res<'w, Look>,
    view: Res<'w, CurrentView>,
    trouble: Res<'w, Trouble>,
    scenes: Res<'w, SceneList>,
    drawing: Res<'w, LinkDrawing>,
    bench: Option<Res<'w, Bench>>,
    files: Option<Res<'w, Files>>,
    unveiling: Option<Res<'w, Unveiling>>,
    practising: Option<Res<'w, Practising>>,
    handouts: Option<Res<'w, Handouts>>,
}

/// Title of the scene, and of several load cases the one whose loads are drawn.
fn title(shown: &Shown) -> String {
    match shown.study.model().cases.as_slice() {
        [] | [_] => shown.written.scene().title.clone(),
        cases => format!(
            "{}  ·  {}",
            shown.written.scene().title,
            cases[shown.case].name
        ),
    }
}

/// The verdict with its reason, and how near it is to another where the scene's tolerance makes that matter.
fn sentence(shown: &Shown) -> wording::Caption {
    let mut said = wording::caption(
        shown.study.model(),
        shown.study.diagnosis(),
        shown.study.uncarried(),
    );
    let nearness = shown.study.nearness();
    let uncertain = nearness.filter(|nearness| nearness.placement != Some(Placement::Held));
    let placement =
        uncertain.and_then(|nearness| wording::placement(shown.study.model(), nearness));
    if let Some(placement) = placement {
        said.reason.push(phrase!(" ", placement));
    }
    said
}

impl Contents<'_> {
    fn caption(&self) -> Caption {
        let shown = self.shown.read();
        let watched = match shown.source() {
            Some(Source::File(path)) => path.file_name(),
            _ => None,
        };
        let mut sentence = sentence(&shown);
        let unveiling = self.unveiling.as_deref();
        if let Some(question) = unveiling.and_then(Unveiling::question) {
            (sentence.verdict, sentence.reason) = (Phrase::new(), question);
        }
        let practising = self.practising.as_deref();
        let asked = practising.and_then(|practising| practising.question(shown.written));
        let is_asked = asked.is_some();
        if let Some(question) = asked {
            (sentence.verdict, sentence.reason) = (Phrase::new(), question);
        }
        let moves =
            unveiling.is_none_or(Unveiling::moves) && practising.is_none_or(Practising::moves);
        Caption {
            title: title(&shown),
            verdict: sentence.verdict,
            reason: sentence.reason,
            motions: if moves {
                shown.selections()
            } else {
                Vec::new()
            },
            motion: shown.motion,
            sides: shown.course().map_or(Sides::Both, |course| course.sides()),
            at_rest: match (moves, is_asked) {
                (_, true) => "Esc ends the questions.",
                (true, false) => wording::at_rest(shown.study.uncarried(), shown.case),
                (false, false) => unveiling.map_or("", Unveiling::hint),
            },
            view: self.view.words(shown.study.model().space == Space::Planar),
            watched: watched.map(|name| name.to_string_lossy().into_owned()),
            pointed: pointed(&shown),
            released: wording::listed(&shown.released_symbols()),
            trial: shown
                .trial
                .filter(|_| !is_asked)
                .map(|link| wording::added_link(shown.study.model(), link)),
            drawing: self.drawing.on,
        }
    }
}

/// What is pointed out, where the sentence does not say it already.
fn pointed(shown: &Shown) -> Option<Phrase> {
    let pointed = shown.pointed.filter(|thing| *thing != Pointed::Reason);
    shown.words_of(pointed?)
}

fn show_panels(
    mut contexts: EguiContexts,
    contents: Contents,
    mut open: ResMut<Open>,
    (mut free, mut covered): (ResMut<FreeArea>, ResMut<Covered>),
    mut frames: ResMut<FramesToDraw>,
    mut intents: Intents,
) -> Result {
    let ctx = contexts.ctx_mut()?.clone();
    let mut ui = egui::Ui::new(
        ctx.clone(),
        Id::new("window"),
        UiBuilder::new()
            .layer_id(egui::LayerId::background())
            .max_rect(ctx.viewport_rect()),
    );
    let mut state = open.clone();
    state.make_room(ctx.viewport_rect().width());
    let (asked, area, line) = edges_ui(&mut ui, &contents, &mut state);
    open.set_if_neq(state);
    let zoom = ctx.zoom_factor();
    let in_window = |area: egui::Rect| {
        let corners = [area.min, area.max].map(|at| Vec2::new(at.x, at.y) * zoom);
        Rect::from_corners(corners[0], corners[1])
    };
    covered.set_if_neq(Covered(line.map_or_else(Rect::default, in_window)));
    let area = FreeArea(in_window(area));
    // While a link is pulled the picture stays under the hand, whatever the caption grows to.
    let dragged = contents
        .bench
        .as_ref()
        .is_some_and(|bench| bench.holds_pointer());
    if !contents.drawing.holds_pointer() && !dragged && free.set_if_neq(area) {
        frames.until_settled();
    }
    for intent in asked {
        intents.send(intent);
    }
    Ok(())
}

/// The panels at the edges, from the outside in; what remains is the scene's. The line that says what is in hand lies over
/// the scene, which must not move under the pointer when it comes and goes; where it lies comes last.
fn edges_ui(
    ui: &mut egui::Ui,
    contents: &Contents,
    open: &mut Open,
) -> (Vec<Intent>, egui::Rect, Option<egui::Rect>) {
    let theme = Theme::of(contents.look.theme);
    let mut asked = right_edge_ui(ui, contents, &mut open.ledger, &theme);
    let (entries, source) = (contents.scenes.entries(), contents.shown.read().source());
    let (shown, path) = (&mut open.scenes, &mut open.path);
    let scenes = egui::Panel::left("scenes");
    side_ui(ui, scenes, SCENES_WIDTH, shown, &theme, |ui| {
        asked.extend(scenes_ui(ui, entries, source, path, &theme));
    });
    let add = egui::Panel::left("add");
    let scene = contents.shown.read().written.scene();
    side_ui(ui, add, SCENES_WIDTH, &mut open.add, &theme, |ui| {
        asked.extend(add_ui(ui, scene));
    });
    if let Some(handouts) = &contents.handouts {
        let panel = egui::Panel::left("handouts");
        let shown = contents.shown.read();
        let subject = (shown.course().is_some(), !shown.released().is_empty());
        side_ui(ui, panel, SCENES_WIDTH, &mut open.handouts, &theme, |ui| {
            asked.extend(handouts_ui(ui, handouts, subject, &theme));
        });
    }
    let foot = panel_frame(&theme).fill(colour32(theme.background));
    let across = ui.available_rect_before_wrap().x_range();
    let caption = edge(egui::Panel::bottom("caption"), foot).show(ui, |ui| {
        asked.extend(caption_ui(
            ui,
            &contents.caption(),
            &contents.playback,
            &theme,
        ));
    });
    let top = caption.response.rect.top();
    fade_above(ui, across, top, colour32(theme.background));
    if let Some(message) = &contents.trouble.message {
        let panel = edge(egui::Panel::top("trouble"), panel_frame(&theme));
        panel.show(ui, |ui| trouble_ui(ui, message, &theme));
    }
    let mut area = ui.available_rect_before_wrap();
    let mut line = None;
    let practising = contents.practising.as_deref();
    if let Some(practising) = practising.filter(|practising| practising.is_on()) {
        let shown = contents.shown.read();
        let subject = (shown.written, shown.trial);
        let (intents, rect) = over_foot_ui(ui, "questions", area, &theme, |ui| {
            practising::line_ui(ui, practising, subject, &theme)
        });
        asked.extend(intents);
        line = Some(rect);
        // It is there as long as questions are asked, so nothing of the scene is to lie under it.
        area.max.y = area.max.y.min(rect.min.y);
    } else if let (Some(bench), Some(files)) = (&contents.bench, &contents.files)
        && !is_silent(bench, files)
    {
        let (intents, rect) = over_foot_ui(ui, "making", area, &theme, |ui| {
            form_ui(ui, bench, files, &theme)
        });
        asked.extend(intents);
        line = Some(rect);
    }
    if open.keys {
        asked.extend(overlay_ui(ui, &theme));
    }
    (asked, area, line)
}

/// The ledger: its figures, and its pages where they are open.
fn right_edge_ui(
    ui: &mut egui::Ui,
    contents: &Contents,
    open: &mut bool,
    theme: &Theme,
) -> Vec<Intent> {
    let mut asked = Vec::new();
    let shown = contents.shown.read();
    let numbers = wording::big_numbers(shown.study.model().space, shown.study.diagnosis());
    let mut veil = contents
        .unveiling
        .as_ref()
        .map_or_else(Veil::default, |unveiling| Veil {
            seen: unveiling.numbers(),
            guess: unveiling.guess_to_show(),
        });
    let practising = contents.practising.as_deref();
    if let Some(seen) = practising.and_then(Practising::numbers) {
        veil.seen = seen;
        // Its pages give the answers away.
        *open = false;
    }
    let slim = panel_frame(theme).inner_margin(Margin::symmetric(6, 10));
    edge(egui::Panel::right("figures"), slim)
        .exact_size(FIGURES_WIDTH)
        .show(ui, |ui| {
            asked.extend(figures_ui(ui, &numbers, &veil, theme))
        });
    let page = Page {
        shown: &shown,
        playback: &contents.playback,
        look: &contents.look,
    };
    let pages = egui::Panel::right("ledger");
    side_ui(ui, pages, LEDGER_WIDTH, open, theme, |ui| {
        asked.extend(pages_ui(ui, &page));
    });
    asked
}

/// A panel that keeps its size and has no line at its edge.
fn edge(panel: egui::Panel, frame: egui::Frame) -> egui::Panel {
    panel
        .resizable(false)
        .show_separator_line(false)
        .frame(frame)
}

/// Lets the picture fade into the panel below it instead of being cut off.
fn fade_above(ui: &egui::Ui, across: egui::Rangef, top: f32, colour: egui::Color32) {
    let mut mesh = egui::Mesh::default();
    for step in 0..=FADE_STEPS {
        let share = step as f32 / FADE_STEPS as f32;
        let y = top - FADE * (1.0 - share);
        let faded = veil(colour, share * share * (3.0 - 2.0 * share));
        mesh.colored_vertex(egui::pos2(across.min, y), faded);
        mesh.colored_vertex(egui::pos2(across.max, y), faded);
        if step > 0 {
            let last = 2 * step;
            mesh.add_triangle(last - 2, last - 1, last);
            mesh.add_triangle(last - 1, last, last + 1);
        }
    }
    ui.painter().add(mesh);
}

/// A panel that slides in from a side.
fn side_ui(
    ui: &mut egui::Ui,
    panel: egui::Panel,
    width: f32,
    open: &mut bool,
    theme: &Theme,
    contents: impl FnOnce(&mut egui::Ui),
) {
    let widest = ui.available_width() * 0.6;
    edge(panel, panel_frame(theme))
        .exact_size(width.min(widest))
        .show_collapsible(ui, open, contents);
}

/// A line over the foot of the picture and whatever is written there.
fn over_foot_ui(
    ui: &egui::Ui,
    name: &str,
    area: egui::Rect,
    theme: &Theme,
    line: impl FnOnce(&mut egui::Ui) -> Vec<Intent>,
) -> (Vec<Intent>, egui::Rect) {
    let frame = panel_frame(theme).fill(colour32(theme.background));
    let margin = frame.inner_margin.sum().x;
    let place = egui::Area::new(Id::new(name))
        .order(egui::Order::Middle)
        .pivot(Align2::LEFT_BOTTOM)
        .fixed_pos(area.left_bottom());
    let shown = place.show(ui.ctx(), |ui| {
        let contents = |ui: &mut egui::Ui| {
            ui.set_width(area.width() - margin);
            line(ui)
        };
        frame.show(ui, contents).inner
    });
    (shown.inner, shown.response.rect)
}

fn overlay_ui(ui: &egui::Ui, theme: &Theme) -> Vec<Intent> {
    let area = egui::Area::new(Id::new("keys"))
        .anchor(Align2::CENTER_CENTER, egui::Vec2::ZERO)
        .order(egui::Order::Foreground);
    let frame = panel_frame(theme)
        .stroke(egui::Stroke::new(1.0, colour32(theme.quiet_ink)))
        .corner_radius(6);
    area.show(ui.ctx(), |ui| frame.show(ui, |ui| keys_ui(ui, theme)).inner)
        .inner
}

/// Runs panels by themselves, without a window, to see what they say and what clicks on them ask for.
#[cfg(test)]
pub(crate) mod testing {
    use bevy_egui::egui::{self, Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect};

    use super::Intent;
    use crate::wording::Phrase;

    /// The texts that a panel draws, and where.
    pub(crate) struct Found(Vec<(String, Rect)>);

    impl Found {
        /// Whether a text contains this one.
        pub(crate) fn has(&self, text: &str) -> bool {
            self.0.iter().any(|(found, _)| found.contains(text))
        }

        /// How low a text reaches.
        pub(crate) fn bottom_of(&self, text: &str) -> Option<f32> {
            let found = self.0.iter().find(|(found, _)| found == text);
            found.map(|(_, rect)| rect.bottom())
        }

        fn middle_of(&self, text: &str) -> Option<Pos2> {
            let found = self.0.iter().find(|(found, _)| found == text);
            found.map(|(_, rect)| rect.center())
        }
    }

    /// The letters of a phrase as they are on the screen, with plain spaces.
    pub(crate) fn written(phrase: &Phrase) -> String {
        let pieces = phrase.pieces();
        let letters: String = pieces.iter().map(|piece| piece.text.as_str()).collect();
        letters.replace('\u{a0}', " ")
    }

    /// What a panel writes.
    pub(crate) fn text(mut panel: impl FnMut(&mut egui::Ui) -> Vec<Intent>) -> Found {
        let ctx = context();
        // Some sizes are known only in the second pass.
        pass(&ctx, vec![], &mut panel);
        pass(&ctx, vec![], &mut panel).1
    }

    /// What a panel asks for when the text is clicked.
    pub(crate) fn click(
        text: &str,
        mut panel: impl FnMut(&mut egui::Ui) -> Vec<Intent>,
    ) -> Vec<Intent> {
        let ctx = context();
        pass(&ctx, vec![], &mut panel);
        let (_, found) = pass(&ctx, vec![], &mut panel);
        let pos = found
            .middle_of(text)
            .unwrap_or_else(|| panic!("no \"{text}\" to click"));
        let button = |pressed| Event::PointerButton {
            pos,
            button: PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        };
        pass(&ctx, vec![Event::PointerMoved(pos)], &mut panel);
        let mut asked = pass(&ctx, vec![button(true)], &mut panel).0;
        asked.extend(pass(&ctx, vec![button(false)], &mut panel).0);
        asked
    }

    fn context() -> Context {
        let ctx = Context::default();
        super::super::fonts::install(&ctx);
        ctx
    }

    fn pass(
        ctx: &Context,
        events: Vec<Event>,
        panel: &mut impl FnMut(&mut egui::Ui) -> Vec<Intent>,
    ) -> (Vec<Intent>, Found) {
        let screen = Rect::from_min_size(Pos2::ZERO, egui::vec2(900.0, 700.0));
        let input = RawInput {
            screen_rect: Some(screen),
            events,
            ..RawInput::default()
        };
        let mut asked = Vec::new();
        let mut output = ctx.run_ui(input, |ui| asked = panel(ui));
        output.textures_delta.clear();
        let texts = output
            .shapes
            .iter()
            .filter_map(|clipped| match &clipped.shape {
                egui::Shape::Text(text) => {
                    let written = text.galley.text().replace('\u{a0}', " ");
                    Some((written, text.visual_bounding_rect()))
                }
                _ => None,
            });
        (asked, Found(texts.collect()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_drawers_are_open_only_where_there_is_room() {
        let opened = |width: f32, scenes_last: bool| {
            let mut open = Open {
                ledger: true,
                scenes: true,
                scenes_last,
                ..default()
            };
            open.make_room(width);
            (open.ledger, open.scenes)
        };
        assert_eq!(opened(1920.0, true), (true, true));
        assert_eq!(opened(1280.0, true), (false, true));
        assert_eq!(opened(1280.0, false), (true, false));
    }

    #[test]
    fn escape_closes_everything() {
        let mut app = App::new();
        add_messages(&mut app);
        app.init_resource::<Open>()
            .add_systems(Update, follow_intents);
        for panel in [Panel::Ledger, Panel::Scenes, Panel::Keys] {
            app.world_mut().write_message(PanelIntent::Toggle(panel));
        }
        app.update();
        let open = app.world().resource::<Open>();
        assert!(open.ledger && open.scenes && open.keys);
        app.world_mut().write_message(CloseAll);
        app.update();
        assert_eq!(*app.world().resource::<Open>(), Open::default());
    }
}
