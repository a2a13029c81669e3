//! The drawing as it is worked on: what is shown of it, and what is done to what is picked.

mod hands;

use std::sync::Arc;

use leptos::{html, prelude::*};
use risemark::{
    finding::Place,
    geometry::Point,
    job::{OwnState, Wall},
    plan::WallPlan,
    quantity::{Length, Units, inches, millimeters, to_mm},
};
use risemark_sheets::{Fit, Layer, Picture, View, screen};

use super::field::refused;
use crate::{
    command::WallChange,
    edit::{
        Entry, Grip, Scene,
        add::{self, Kind},
        change::{self, Edited},
        entries, figure, holes,
        snap::{Hold, Rest},
        studs,
    },
    planner::PlannedWall,
    session::{Selection, Session},
    words,
};

/// Right and down from the upper left corner of the drawing, in pixels.
pub type Spot = (f64, f64);

/// What the drawing may take of the height of the window where the panel lies beside it.
const SHARE_BESIDE_PANEL: f64 = 0.72;

/// The same, where the panel lies under it.
const SHARE_ABOVE_PANEL: f64 = 0.4;

/// A drawing narrower than this has the panel under it.
const NARROW: f64 = 500.0;

/// The height of a window that does not tell its own.
const DESK_HEIGHT: f64 = 800.0;

/// How near, in pixels, something beside a pull holds it.
const HOLD: f64 = 5.0;

/// The most that the drawing is enlarged.
const LARGEST: f64 = 12.0;

/// What one key or button does to the size of the drawing.
pub const ZOOM_STEP: f64 = 1.5;

/// The drawing of one wall; copies share it.
#[derive(Debug, Clone, Copy)]
pub struct Board {
    /// The state of the app.
    pub session: Session,
    /// The element that holds the drawing.
    pub holder: NodeRef<html::Div>,
    /// The width of that element, once it is known.
    pub width: RwSignal<Option<f64>>,
    /// What is drawn.
    pub layers: RwSignal<Vec<Layer>>,
    /// What the next touch of the wall adds.
    pub adding: RwSignal<Option<Kind>>,
    /// Whether a touch adds to what is picked already.
    pub several: RwSignal<bool>,
    /// The grip that arrow keys pull; all of the entry unless another was chosen.
    pub grip: RwSignal<Grip>,
    /// Why the last edit was refused; empty when it was not.
    pub message: RwSignal<String>,
    /// The drag that is going on.
    pub trial: RwSignal<Option<Trial>>,
    /// The wall with its plan, apart from any drag.
    pub planned: Memo<Option<PlannedWall>>,
    /// What is seen.
    pub shown: Memo<Option<Shown>>,
    fitted: Memo<Option<Picture>>,
    zoomed: RwSignal<Option<Zoomed>>,
    id: StoredValue<String>,
    hand: StoredValue<hands::Hand>,
}

/// The picture that is seen, and where it lies in its holder.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// The picture.
    pub picture: Picture,
    /// Where its upper left corner lies.
    pub shift: Spot,
}

/// A wall as a drag would have it.
#[derive(Debug, Clone)]
pub struct Trial {
    /// What letting go does; nothing while nothing has moved.
    pub edited: Option<Edited>,
    /// The plan that is drawn: of the wall as it would be, or of the last that could be planned.
    pub plan: Arc<WallPlan>,
    /// What is dragged.
    pub entries: Vec<Entry>,
    /// By which part.
    pub grip: Grip,
    /// Where it has come to rest.
    pub rest: Rest,
    /// Why it may not stay there.
    pub refused: Option<String>,
    /// Where the pointer is.
    pub pointer: Spot,
    scale: f64,
    origin: Spot,
}

/// A drawing larger than its holder.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Zoomed {
    times: f64,
    /// Where the origin of the wall lies.
    origin: Spot,
}

/// What is drawn while something is dragged.
#[derive(Debug, Clone)]
struct Tried {
    plan: Arc<WallPlan>,
    scale: f64,
    origin: Spot,
}

impl PartialEq for Tried {
    /// A move that is refused leaves the plan as it is, and so the drawing.
    fn eq(&self, other: &Self) -> bool {
        let place = |tried: &Self| (tried.scale, tried.origin);
        Arc::ptr_eq(&self.plan, &other.plan) && place(self) == place(other)
    }
}

impl Shown {
    /// Where a place on the wall is seen.
    pub fn at(&self, place: Point) -> Spot {
        let (x, y) = self.picture.at(place);
        (x + self.shift.0, y + self.shift.1)
    }

    /// The place on the wall that is seen at a spot.
    pub fn place(&self, (x, y): Spot) -> Point {
        self.picture.place((x - self.shift.0, y - self.shift.1))
    }

    /// So many pixels as a length of wall.
    pub fn length(&self, pixels: f64) -> Length {
        millimeters(pixels / self.picture.scale)
    }
}

/// What tells how the wall is seen.
#[derive(Clone, Copy)]
struct Seen {
    session: Session,
    width: RwSignal<Option<f64>>,
    layers: RwSignal<Vec<Layer>>,
    planned: Memo<Option<PlannedWall>>,
    fitted: Memo<Option<Picture>>,
    tried: Memo<Option<Tried>>,
    zoomed: RwSignal<Option<Zoomed>>,
}

impl Seen {
    fn shown(self) -> Option<Shown> {
        if let Some(Tried { plan, scale, origin }) = self.tried.get() {
            // Something that is dragged on the whole wall must not make the page lay itself out anew.
            let is_whole = self.zoomed.with(Option::is_none);
            let fit = if is_whole { Fit::Wall(scale) } else { self.part(scale, origin)? };
            return Some(self.at_scale(&plan, fit, origin));
        }
        let Some(Zoomed { times, origin }) = self.zoomed.get() else {
            return Some(Shown { picture: self.fitted.get()?, shift: (0.0, 0.0) });
        };
        let scale = self.fitted.with(|fitted| Some(fitted.as_ref()?.scale * times))?;
        Some(self.at_scale(self.planned.get()?.plan(), self.part(scale, origin)?, origin))
    }

    fn at_scale(self, plan: &WallPlan, fit: Fit, origin: Spot) -> Shown {
        let (selected, layers) = (self.session.chosen_in(plan), self.layers.get());
        let view = View { fit, layers, selected, ..wide(0.0) };
        let picture = screen(plan, self.session.units.get(), &view);
        let shift = (origin.0 - picture.origin.0, origin.1 - picture.origin.1);
        Shown { picture, shift }
    }

    fn part(self, per_mm: f64, origin: Spot) -> Option<Fit> {
        let fitted = self.fitted.with(|fitted| Some(fitted.as_ref()?.height))?;
        let width = self.width.get()?;
        Some(Fit::Part { per_mm, origin, width, height: height_of_part(fitted, width) })
    }
}

impl Board {
    /// The drawing of the wall that bears an id.
    pub fn new(session: Session, id: &str) -> Self {
        let width = RwSignal::new(None);
        let layers = RwSignal::new(Layer::ALL.to_vec());
        let trial: RwSignal<Option<Trial>> = RwSignal::new(None);
        let zoomed: RwSignal<Option<Zoomed>> = RwSignal::new(None);
        let planned = {
            let id = id.to_owned();
            Memo::new(move |_| session.planned_wall(&id))
        };
        let fitted = Memo::new(move |_| {
            let (planned, width) = (planned.get()?, width.get()?);
            let layers = layers.get();
            let plan = planned.plan();
            let view = View { selected: session.chosen_in(plan), layers, ..wide(width) };
            Some(fit(plan, session.units.get(), view, width))
        });
        let tried = Memo::new(move |_| {
            trial.with(|trial| {
                let Trial { plan, scale, origin, .. } = trial.as_ref()?;
                Some(Tried { plan: Arc::clone(plan), scale: *scale, origin: *origin })
            })
        });
        let seen = Seen { session, width, layers, planned, fitted, tried, zoomed };
        let shown = Memo::new(move |_| seen.shown());
        Self {
            session,
            holder: NodeRef::new(),
            width,
            layers,
            adding: RwSignal::new(None),
            several: RwSignal::new(false),
            grip: RwSignal::new(Grip::Whole),
            message: RwSignal::default(),
            trial,
            planned,
            shown,
            fitted,
            zoomed,
            id: StoredValue::new(id.to_owned()),
            hand: StoredValue::default(),
        }
    }

    /// The mark of the hole that is chosen now.
    pub fn chosen_hole(self) -> Option<usize> {
        untrack(|| self.session.chosen_hole())
    }

    /// Whether the wall is one of brick.
    pub fn is_brick(self) -> Memo<bool> {
        self.session.is_brick(&self.id.read_value())
    }

    /// The room that the drawing takes, enlarged or not.
    pub fn height(self) -> Option<f64> {
        let fitted = self.fitted.with(|fitted| Some(fitted.as_ref()?.height))?;
        let width = self.width.get()?;
        Some(if self.is_zoomed() { height_of_part(fitted, width) } else { fitted })
    }

    /// Whether the drawing is larger than its holder.
    pub fn is_zoomed(self) -> bool {
        self.zoomed.get().is_some()
    }

    /// What is picked on the wall.
    pub fn picked(self) -> Vec<Entry> {
        self.planned.get().map(|planned| self.session.picked(&planned.wall)).unwrap_or_default()
    }

    /// Makes the drawing larger or smaller about a spot, or about its middle.
    pub fn zoom(self, times: f64, about: Option<Spot>) {
        let Some(shown) = self.shown.get_untracked() else { return };
        let middle = || {
            let width = self.width.get_untracked().unwrap_or_default();
            (width / 2.0, untrack(|| self.height()).unwrap_or_default() / 2.0)
        };
        let at = about.unwrap_or_else(middle);
        let now = self.zoomed.get_untracked().map_or(1.0, |zoomed| zoomed.times);
        self.zoom_to(now * times, shown.place(at), at);
    }

    /// Fits the drawing to its holder.
    pub fn fit(self) {
        self.zoomed.set(None);
    }

    /// Points at an entry, alone or with what is picked already.
    pub fn pick(self, entry: Entry, extend: bool) {
        let mut picked = if extend { untrack(|| self.picked()) } else { Vec::new() };
        match picked.iter().position(|other| *other == entry) {
            Some(idx) => drop(picked.remove(idx)),
            None => picked.push(entry),
        }
        self.grip.set(Grip::Whole);
        self.say_picked(&picked);
        let none = picked.is_empty();
        self.session.select(if none { Selection::Nothing } else { Selection::Entries(picked) });
    }

    /// Points at the next entry of the wall, or the one before.
    pub fn pick_beside(self, step: isize) {
        let Some(planned) = self.planned.get_untracked() else { return };
        let entries = entries(scene(&planned));
        let picked = untrack(|| self.picked());
        let at = picked.last().and_then(|now| entries.iter().position(|entry| entry == now));
        let first = if step < 0 { entries.len().checked_sub(1) } else { Some(0) };
        let next = at.map_or(first, |at| at.checked_add_signed(step));
        if let Some(entry) = next.and_then(|next| entries.get(next)) {
            self.pick(*entry, false);
        }
    }

    /// Takes the next grip of the entry that is picked.
    pub fn next_grip(self) {
        let Some(planned) = self.planned.get_untracked() else { return };
        let [entry] = untrack(|| self.picked())[..] else { return };
        let mut grips = vec![Grip::Whole];
        grips.extend(figure::grips(scene(&planned), entry).into_iter().map(|(grip, _)| grip));
        let now = grips.iter().position(|grip| *grip == self.grip.get_untracked());
        let next = now.map_or(0, |now| (now + 1) % grips.len());
        self.grip.set(grips[next]);
        self.session.say(words::grip(grips[next]).to_owned());
    }

    /// Moves what is picked by steps, to the right and up.
    pub fn nudge(self, right: f64, up: f64, far: bool) {
        let Some(planned) = self.planned.get_untracked() else { return };
        let picked = untrack(|| self.picked());
        let whole_bays = matches!(picked[..], [Entry::Block(_) | Entry::Bay(_)])
            && self.grip.get_untracked() == Grip::Whole;
        let step = match (far, self.session.units.get_untracked()) {
            (true, Units::FeetInches) => inches(12.0),
            (true, Units::Metric) => millimeters(100.0),
            (false, _) => untrack(|| self.session.rules()).marking_step,
        };
        // What lies from stud to stud goes from bay to bay.
        let across = if whole_bays { studs::spacing(&planned.wall) } else { step };
        let by = Point::new(across * right, step * up);
        let grip = self.grip.get_untracked();
        if let Some(edited) = change::moved(scene(&planned), &picked, grip, by)
            && self.run(edited)
        {
            self.say_picked(&picked);
        }
    }

    /// Reads out where entries are now.
    pub fn say_picked(self, picked: &[Entry]) {
        if let Some(planned) = self.planned.get_untracked() {
            let units = self.session.units.get_untracked();
            self.session.say(words::picked(&planned.wall, picked, units));
        }
    }

    /// Takes out what is picked.
    pub fn remove(self) {
        let Some(planned) = self.planned.get_untracked() else { return };
        let picked = untrack(|| self.picked());
        if let Some(edited) = change::removed(scene(&planned), &picked) {
            self.session.select(Selection::Nothing);
            self.run(edited);
        }
    }

    /// Doubles the entries that are picked, and points at the doubles.
    pub fn double(self) {
        let Some(planned) = self.planned.get_untracked() else { return };
        let picked = untrack(|| self.picked());
        if picked.is_empty() {
            return;
        }
        match change::all_doubled(scene(&planned), &picked) {
            None => self.message.set(words::NO_ROOM.text().to_owned()),
            Some((edited, doubles)) => {
                if self.run(edited) {
                    self.say_picked(&doubles);
                    self.session.select(Selection::Entries(doubles));
                }
            }
        }
    }

    /// Picks the hole that is chosen, so that it can be moved; one of the planner's is kept from then on.
    pub fn take_hole(self) {
        let (Some(planned), Some(mark)) = (self.planned.get_untracked(), self.chosen_hole()) else {
            return;
        };
        let Some(entry) = self.hole_entry(mark) else { return };
        if !entry.is_on(&planned.wall) {
            let Some(kept) = holes::stated(&planned.wall, planned.plan(), mark, OwnState::Set)
            else {
                return;
            };
            if !self.change(kept) {
                return;
            }
        }
        self.pick(entry, false);
    }

    /// Adds what was chosen at a place, and points at it.
    pub fn add(self, place: Point) {
        let (Some(kind), Some(planned)) =
            (self.adding.get_untracked(), self.planned.get_untracked())
        else {
            return;
        };
        let reach =
            self.shown.with_untracked(|shown| shown.as_ref().map(|shown| shown.length(HOLD)));
        let step = untrack(|| self.session.rules()).marking_step;
        let hold = Hold::of(&planned.wall, reach.unwrap_or_default(), step);
        let Some((edited, entry)) = add::added(scene(&planned), kind, place, hold) else { return };
        if self.run(edited) {
            self.adding.set(None);
            self.pick(entry, false);
        }
    }

    /// Adds what was chosen in the middle of what is seen.
    pub fn add_here(self) {
        let place = self.shown.with_untracked(|shown| {
            let (shown, height) = (shown.as_ref()?, untrack(|| self.height())?);
            Some(shown.place((self.width.get_untracked()? / 2.0, height / 2.0)))
        });
        place.into_iter().for_each(|place| self.add(place));
    }

    /// Goes to the fields of what is picked.
    pub fn open_form(self) {
        let Some(planned) = self.planned.get_untracked() else { return };
        let Some(entry) = untrack(|| self.picked()).pop() else { return };
        let place = entry.place(&planned.wall).unwrap_or_else(|| Place::default().field("spacing"));
        self.session.select(Selection::Place(place));
    }

    fn run(self, edited: Edited) -> bool {
        self.change(edited.change)
    }

    fn change(self, change: WallChange) -> bool {
        let outcome = self.session.change_wall(&self.id.get_value(), change);
        let message = refused(outcome, self.session).err().unwrap_or_default();
        let is_done = message.is_empty();
        self.message.set(message);
        is_done
    }

    /// Shows the wall so much larger, with a place of it at a spot.
    fn zoom_to(self, times: f64, place: Point, at: Spot) {
        let times = times.clamp(1.0, LARGEST);
        if times < 1.02 {
            return self.fit();
        }
        let Some(fitted) = self.fitted.get_untracked() else { return };
        let scale = fitted.scale * times;
        let origin = (at.0 - to_mm(place.x) * scale, at.1 + to_mm(place.y) * scale);
        self.zoomed.set(Some(Zoomed { times, origin }));
        self.pan((0.0, 0.0));
    }

    /// Moves the paper, no further than to its edges.
    fn pan(self, by: Spot) {
        let (Some(zoomed), Some(planned)) =
            (self.zoomed.get_untracked(), self.planned.get_untracked())
        else {
            return;
        };
        let (Some(fitted), Some(width)) = (self.fitted.get_untracked(), self.width.get_untracked())
        else {
            return;
        };
        let (units, layers) = (self.session.units.get_untracked(), self.layers.get_untracked());
        let beside =
            risemark_sheets::beside(planned.plan(), units, &View { layers, ..wide(width) });
        let (scale, wall) = (fitted.scale * zoomed.times, planned.extent);
        let pixels = |length: Length| to_mm(length) * scale;
        // The wall fills what the rulers leave, or stands in the middle of it.
        let within = |origin: f64, (from, to): (f64, f64), (near, far): (f64, f64)| {
            let (least, most) = (far - to, near - from);
            if most < least { f64::midpoint(least, most) } else { origin.clamp(least, most) }
        };
        let across = (pixels(wall.x.from), pixels(wall.x.to));
        let down = (-pixels(wall.y.to), -pixels(wall.y.from));
        let room = (beside.left, width - beside.right);
        let x = within(zoomed.origin.0 + by.0, across, room);
        let room = (beside.above, height_of_part(fitted.height, width) - beside.below);
        let y = within(zoomed.origin.1 + by.1, down, room);
        let origin = (x, y);
        if origin != zoomed.origin {
            self.zoomed.set(Some(Zoomed { origin, ..zoomed }));
        }
    }
}

/// A wall with its framing.
pub fn scene(planned: &PlannedWall) -> Scene<'_> {
    Scene { wall: &planned.wall, frame: &planned.plan().frame }
}

impl Trial {
    /// The wall as the drag would have it.
    pub fn wall<'a>(&'a self, start: &'a Wall) -> &'a Wall {
        self.edited.as_ref().map_or(start, |edited| &edited.wall)
    }
}

/// The largest picture that a holder of some width has room for.
fn fit(plan: &WallPlan, units: Units, view: View, width: f64) -> Picture {
    let wide = screen(plan, units, &view);
    let height = most_height(width);
    if wide.height <= height {
        return wide;
    }
    screen(plan, units, &View { fit: Fit::Inside { width, height }, ..view })
}

/// Everything shown in a room of some width, in the language of this screen.
fn wide(width: f64) -> View {
    View { language: words::language(), ..View::wide(width) }
}

/// The height that a part of the wall takes: all there may be, or a low wall would be seen through a slot.
fn height_of_part(fitted: f64, width: f64) -> f64 {
    most_height(width).max(fitted)
}

/// The height that the drawing may take, beside or above the panel.
fn most_height(width: f64) -> f64 {
    let height = window().inner_height().ok().and_then(|height| height.as_f64());
    let share = if width < NARROW { SHARE_ABOVE_PANEL } else { SHARE_BESIDE_PANEL };
    height.unwrap_or(DESK_HEIGHT) * share
}

/// The distance between two spots.
pub fn apart(a: Spot, b: Spot) -> f64 {
    let (x, y) = (a.0 - b.0, a.1 - b.1);
    (x * x + y * y).sqrt()
}
