//! What hands do to the drawing: pointers press, drag, move the paper and pinch.
//!
//! A drag is tried on the wall alone and drawn as it goes; the job changes once, when it is let go.

use std::sync::Arc;

use leptos::{ev, prelude::*};
use risemark::{
    drilling::{Earlier, Effort, Hole, HoleState},
    finding::{Finding, Severity},
    geometry::Point,
    job::{Job, OwnState},
    plan::{WallPlan, plan_wall},
    quantity::{Length, millimeters},
    rules::Rules,
};
use risemark_sheets::Layer;
use wasm_bindgen::JsCast;
use web_sys::Element;

use super::{Board, HOLD, Shown, Spot, Trial, apart, scene};
use crate::{
    command::WallChange,
    edit::{
        Entry, Grip,
        change::{self, Edited},
        figure, holes,
        snap::{self, Hold, Readings},
    },
    planner::PlannedWall,
    session::Selection,
    view::{elevation::number_under, handles},
    words,
};

/// How far from its middle a finger still means a thing, in pixels.
const FINGER: f64 = 22.0;

/// The same for the tip of a mouse pointer.
const TIP: f64 = 8.0;

/// How far a pointer goes, in pixels, before it drags.
const SLACK: f64 = 4.0;

/// What hands are doing.
#[derive(Debug, Default)]
pub(super) struct Hand {
    pointers: Vec<(i32, Spot)>,
    gesture: Gesture,
    /// Whether the space bar is held, by which a drag moves the paper.
    space: bool,
    /// A move that waits for the next frame.
    waiting: Option<Spot>,
}

#[derive(Debug, Default)]
enum Gesture {
    #[default]
    None,
    /// A pointer is down, and may yet tap or drag.
    Press(Box<Press>),
    Drag(Box<Drag>),
    Pan(Spot),
    /// Two fingers: how far apart they were, how large the drawing was, and the place between them.
    Pinch {
        apart: f64,
        times: f64,
        place: Point,
    },
}

#[derive(Debug)]
struct Press {
    at: Spot,
    found: Option<Selection>,
    extend: bool,
    /// What a drag from here would pull.
    pull: Option<(Vec<Entry>, Entry, Grip)>,
    is_mouse: bool,
}

#[derive(Debug)]
struct Drag {
    job: Job,
    rules: Arc<Rules>,
    start: PlannedWall,
    /// What makes an entry of what is dragged, where it is none yet.
    lead: Option<WallChange>,
    /// The plan of the last place that was not refused.
    good: Arc<WallPlan>,
    entries: Vec<Entry>,
    grip: Grip,
    readings: Readings,
    beside: Readings,
    hold: Hold,
    from: Spot,
    scale: f64,
    origin: Spot,
}

impl Board {
    /// A pointer goes down.
    pub fn press(self, event: &ev::PointerEvent) {
        let Some(at) = self.spot(event) else { return };
        self.message.set(String::new());
        if let Some(holder) = self.holder.get_untracked() {
            // Capture is a help; without it the drag ends at the edge of the drawing.
            let _captured = holder.set_pointer_capture(event.pointer_id());
        }
        let is_mouse = event.pointer_type() == "mouse";
        let mut fingers = Vec::new();
        let mut space = false;
        self.hand.update_value(|hand| {
            if is_mouse {
                hand.pointers.clear();
            }
            hand.pointers.push((event.pointer_id(), at));
            fingers = hand.pointers.iter().map(|(_, spot)| *spot).collect();
            space = hand.space;
        });
        let gesture = match (fingers.as_slice(), event.button()) {
            ([_, _, ..], _) => self.pinch_from(fingers[0], fingers[1]),
            (_, 1) => Gesture::Pan(at),
            (_, 0) if space => Gesture::Pan(at),
            (_, 0) => Gesture::Press(Box::new(self.pressed(event, at, is_mouse))),
            _ => return,
        };
        self.trial.set(None);
        self.hand.update_value(|hand| hand.gesture = gesture);
    }

    /// A pointer moves; what it drags follows in the next frame.
    pub fn travel(self, event: &ev::PointerEvent) {
        let Some(at) = self.spot(event) else { return };
        let mut is_first = false;
        let mut known = false;
        self.hand.update_value(|hand| {
            let pointer = hand.pointers.iter_mut().find(|(id, _)| *id == event.pointer_id());
            if let Some(pointer) = pointer {
                pointer.1 = at;
                known = true;
                is_first = hand.waiting.replace(at).is_none();
            }
        });
        if known && is_first {
            request_animation_frame(move || self.catch_up());
        }
    }

    /// A pointer goes up: a drag is done, a tap picks or adds.
    pub fn release(self, event: &ev::PointerEvent) {
        if let Some(at) = self.spot(event) {
            self.hand.update_value(|hand| hand.waiting = Some(at));
        }
        self.catch_up();
        let mut gesture = Gesture::None;
        self.hand.try_update_value(|hand| {
            hand.pointers.retain(|(id, _)| *id != event.pointer_id());
            gesture = std::mem::take(&mut hand.gesture);
        });
        match gesture {
            Gesture::Drag(_) => self.drop_here(),
            Gesture::Press(press) => self.tap(*press),
            Gesture::None | Gesture::Pan(_) | Gesture::Pinch { .. } => {}
        }
    }

    /// Takes back what a hand was about to do; says whether it was about to do anything.
    pub fn cancel(self) -> bool {
        let mut was_dragging = false;
        self.hand.update_value(|hand| {
            was_dragging = matches!(hand.gesture, Gesture::Drag(_));
            *hand = Hand::default();
        });
        self.trial.set(None);
        let had_message =
            self.message.try_update(std::mem::take).is_some_and(|said| !said.is_empty());
        had_message || was_dragging || self.adding.try_update(Option::take).flatten().is_some()
    }

    /// A pointer is taken away, as when a finger turns out to scroll the page.
    pub fn abandon(self) {
        self.hand.update_value(|hand| *hand = Hand::default());
        self.trial.set(None);
    }

    /// Whether touches belong to the drawing, and not to the scrolling of the page.
    pub fn holds_touches(self) -> bool {
        self.hand.with_value(|hand| {
            1 < hand.pointers.len()
                || matches!(hand.gesture, Gesture::Drag(_) | Gesture::Pinch { .. })
        })
    }

    /// Holds the paper while the space bar is down.
    pub fn hold_space(self, is_down: bool) {
        self.hand.update_value(|hand| hand.space = is_down);
    }

    /// Where a pointer is on the drawing.
    pub fn spot(self, event: &ev::MouseEvent) -> Option<Spot> {
        let room = self.holder.get_untracked()?.get_bounding_client_rect();
        Some((f64::from(event.client_x()) - room.left(), f64::from(event.client_y()) - room.top()))
    }

    fn pressed(self, event: &ev::PointerEvent, at: Spot, is_mouse: bool) -> Press {
        let extend = event.shift_key() || self.several.get_untracked();
        let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
        let found = self.under(at, target.as_ref(), is_mouse);
        let picked = untrack(|| self.picked());
        let reach = if is_mouse { TIP } else { FINGER };
        let gripped = (!extend).then(|| self.gripped(at, reach, &picked)).flatten();
        let pull = match (gripped, &found) {
            (Some((entry, Grip::Whole)), _) => Some((picked, entry, Grip::Whole)),
            (Some((entry, grip)), _) => Some((vec![entry], entry, grip)),
            // A finger drags a hole only once it is chosen.
            (None, Some(Selection::Hole(place)))
                if !extend && (is_mouse || self.hole_at(*place) == self.chosen_hole()) =>
            {
                let entry = self.hole_at(*place).and_then(|mark| self.hole_entry(mark));
                entry.map(|entry| (vec![entry], entry, Grip::Whole))
            }
            // A finger that drags what is not picked yet means to scroll.
            (None, Some(Selection::Entries(found))) if is_mouse && !extend => {
                found.first().map(|entry| (found.clone(), *entry, Grip::Whole))
            }
            (None, _) => None,
        };
        Press { at, found, extend, pull, is_mouse }
    }

    /// The mark of the hole at a place.
    fn hole_at(self, place: Point) -> Option<usize> {
        let planned = self.planned.get_untracked()?;
        planned.plan().drill.holes.iter().find(|hole| hole.centre == place).map(|hole| hole.mark)
    }

    /// A hole as an entry; one of the planner's becomes the next of the wall's own once it is moved.
    pub(super) fn hole_entry(self, mark: usize) -> Option<Entry> {
        let planned = self.planned.get_untracked()?;
        Some(match planned.plan().hole(mark)?.state {
            HoleState::Own(at, _) => Entry::Hole(at),
            HoleState::Planned => Entry::Hole(planned.wall.drilling.holes.len()),
        })
    }

    fn gripped(self, at: Spot, reach: f64, picked: &[Entry]) -> Option<(Entry, Grip)> {
        let (planned, shown) = (self.planned.get_untracked()?, self.shown.get_untracked()?);
        handles::gripped(scene(&planned), &shown, picked, at, reach)
    }

    /// What lies under a pointer.
    fn under(self, at: Spot, target: Option<&Element>, is_mouse: bool) -> Option<Selection> {
        let (planned, shown) = (self.planned.get_untracked()?, self.shown.get_untracked()?);
        let by_mark = target.and_then(|target| marked(target, planned.plan()));
        let holes = if self.layers.with_untracked(|layers| layers.contains(&Layer::Holes)) {
            &planned.plan().drill.holes[..]
        } else {
            &[]
        };
        let entry = |reach: f64| {
            let entry = figure::hit(scene(&planned), shown.place(at), shown.length(reach))?;
            Some(Selection::Entries(vec![entry]))
        };
        let reach = if is_mouse { TIP } else { FINGER };
        by_mark
            .or_else(|| near(holes, &shown, at, TIP))
            .or_else(|| entry(1.0))
            .or_else(|| near(holes, &shown, at, reach))
            .or_else(|| entry(reach))
    }

    fn tap(self, press: Press) {
        if self.adding.get_untracked().is_some() {
            let place = self
                .shown
                .with_untracked(|shown| shown.as_ref().map(|shown| shown.place(press.at)));
            if let Some(place) = place {
                self.add(place);
            }
            return;
        }
        match press.found {
            Some(Selection::Entries(found)) => {
                found.first().copied().into_iter().for_each(|entry| self.pick(entry, press.extend));
            }
            Some(other) => self.session.select(other),
            None if press.extend => {}
            None => self.session.select(Selection::Nothing),
        }
    }

    /// Does what the last move of a pointer means.
    fn catch_up(self) {
        let mut at = None;
        let mut fingers = Vec::new();
        let mut gesture = Gesture::None;
        // The page may have been left since the frame was asked for.
        self.hand.try_update_value(|hand| {
            at = hand.waiting.take();
            fingers = hand.pointers.iter().map(|(_, spot)| *spot).collect();
            gesture = std::mem::take(&mut hand.gesture);
        });
        let next = match at {
            Some(at) => self.after_move(gesture, at, &fingers),
            None => gesture,
        };
        self.hand.try_update_value(|hand| hand.gesture = next);
    }

    fn after_move(self, gesture: Gesture, at: Spot, fingers: &[Spot]) -> Gesture {
        match gesture {
            Gesture::Press(press) if apart(press.at, at) < SLACK => Gesture::Press(press),
            Gesture::Press(press) => self.after_slack(*press, at),
            Gesture::Drag(mut drag) => {
                self.follow(&mut drag, at);
                Gesture::Drag(drag)
            }
            Gesture::Pan(from) => {
                self.pan((at.0 - from.0, at.1 - from.1));
                Gesture::Pan(at)
            }
            Gesture::Pinch { apart: start, times, place } => {
                if let [a, b, ..] = fingers {
                    let middle = ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0);
                    self.zoom_to(times * apart(*a, *b) / start, place, middle);
                }
                Gesture::Pinch { apart: start, times, place }
            }
            Gesture::None => Gesture::None,
        }
    }

    /// A press that has gone far enough becomes a drag, or moves the paper.
    fn after_slack(self, press: Press, at: Spot) -> Gesture {
        let drag = press.pull.and_then(|(entries, entry, grip)| {
            self.start(&entries, entry, grip, (&press.found, press.at))
        });
        match drag {
            Some(mut drag) => {
                if untrack(|| self.picked()) != drag.entries && drag.grip == Grip::Whole {
                    self.session.select(Selection::Entries(drag.entries.clone()));
                }
                self.follow(&mut drag, at);
                Gesture::Drag(Box::new(drag))
            }
            None if press.is_mouse => {
                self.pan((at.0 - press.at.0, at.1 - press.at.1));
                Gesture::Pan(at)
            }
            None => Gesture::None,
        }
    }

    fn start(
        self,
        entries: &[Entry],
        entry: Entry,
        grip: Grip,
        (found, from): (&Option<Selection>, Spot),
    ) -> Option<Drag> {
        let (mut start, shown) = (self.planned.get_untracked()?, self.shown.get_untracked()?);
        let lead = match (entry, found) {
            (Entry::Hole(_), Some(Selection::Hole(place))) if !entry.is_on(&start.wall) => {
                let mark = self.hole_at(*place)?;
                let lead = holes::stated(&start.wall, start.plan(), mark, OwnState::Set)?;
                let mut wall = (*start.wall).clone();
                lead.clone().apply(&mut wall)?;
                start.wall = Arc::new(wall);
                Some(lead)
            }
            _ => None,
        };
        let job = self.session.alone(&self.id.get_value())?;
        let rules = untrack(|| self.session.rules());
        let scene = scene(&start);
        Some(Drag {
            readings: snap::moving(scene, entry, grip),
            beside: snap::beside(scene, entries),
            hold: Hold::of(&start.wall, shown.length(HOLD), rules.marking_step),
            entries: entries.to_vec(),
            scale: shown.picture.scale,
            origin: shown.at(Point::new(Length::default(), Length::default())),
            good: Arc::clone(start.plan()),
            job,
            rules,
            start,
            lead,
            grip,
            from,
        })
    }

    /// Brings what is dragged to where the pointer is, as far as it may go there.
    fn follow(self, drag: &mut Drag, at: Spot) {
        let length = |pixels: f64| millimeters(pixels / drag.scale);
        let raw = Point::new(length(at.0 - drag.from.0), length(drag.from.1 - at.1));
        let rest = snap::rest(&drag.readings, &drag.beside, raw, drag.hold);
        let is_there =
            |trial: &Option<Trial>| trial.as_ref().is_some_and(|trial| trial.rest == rest);
        if self.trial.with_untracked(is_there) {
            return;
        }
        let edited = change::moved(scene(&drag.start), &drag.entries, drag.grip, rest.by);
        let led = |mut edited: Edited| {
            if let Some(lead) = &drag.lead {
                edited.change = WallChange::Several(vec![lead.clone(), edited.change]);
            }
            edited
        };
        let edited = edited.map(led);
        let reasons = match &edited {
            None => {
                drag.good = Arc::clone(drag.start.plan());
                Vec::new()
            }
            Some(edited) => {
                drag.job.walls[0].clone_from(&edited.wall);
                stops(&drag.job)
            }
        };
        if edited.is_some() && reasons.is_empty() {
            let drill = &drag.start.plan().drill;
            let places: Vec<Point> = drill.places().collect();
            let near = Effort::Near(Earlier { lines: &drill.snap_lines, places: &places });
            drag.good = Arc::new(plan_wall(&drag.job, 0, &drag.rules, near));
        }
        let refused = (!reasons.is_empty())
            .then(|| words::all_messages(&reasons, self.session.units.get_untracked()));
        self.trial.set(Some(Trial {
            edited,
            plan: Arc::clone(&drag.good),
            entries: drag.entries.clone(),
            grip: drag.grip,
            rest,
            refused,
            pointer: at,
            scale: drag.scale,
            origin: drag.origin,
        }));
    }

    /// Lets go of what was dragged: it stays there as one step, or goes back with the reason.
    fn drop_here(self) {
        let Some(trial) = self.trial.try_update(Option::take).flatten() else { return };
        match (trial.refused, trial.edited) {
            (Some(reason), _) => self.message.set(reason),
            (None, Some(edited)) => {
                if self.run(edited) {
                    self.say_picked(&trial.entries);
                }
            }
            (None, None) => {}
        }
    }

    fn pinch_from(self, a: Spot, b: Spot) -> Gesture {
        let Some(shown) = self.shown.get_untracked() else { return Gesture::None };
        let place = shown.place(((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0));
        let times = self.zoomed.get_untracked().map_or(1.0, |zoomed| zoomed.times);
        Gesture::Pinch { apart: apart(a, b).max(1.0), times, place }
    }
}

fn stops(job: &Job) -> Vec<Finding> {
    let mut reasons = risemark::check(job);
    reasons.retain(|finding| finding.problem.severity() == Severity::Stop);
    reasons
}

fn marked(target: &Element, plan: &WallPlan) -> Option<Selection> {
    if let Some(mark) = number_under(target, "data-mark") {
        return plan.hole(mark).map(|hole| Selection::Hole(hole.centre));
    }
    let finding = number_under(target, "data-finding")?;
    Some(Selection::Place(plan.findings.get(finding)?.place.clone()))
}

/// The hole nearest to a spot, as far as a pointer may miss it.
fn near(holes: &[Hole], shown: &Shown, at: Spot, reach: f64) -> Option<Selection> {
    let far = |hole: &Hole| apart(shown.at(hole.centre), at);
    let nearest = holes.iter().min_by(|a, b| far(a).total_cmp(&far(b)))?;
    (far(nearest) <= reach).then_some(Selection::Hole(nearest.centre))
}
