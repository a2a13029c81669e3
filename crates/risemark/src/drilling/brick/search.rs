//! The fewest holes that meet every demand, by taking some out and putting fewer back.

use std::{cmp::Reverse, collections::BinaryHeap};

use crate::{
    drilling::brick::{
        demands::Demand,
        gaps::gaps,
        plane::{Mark, Plane, Spot},
        plumb,
    },
    random::Random,
};

/// The places that may be chosen, and which demands each of them meets.
#[derive(Debug)]
struct Board {
    /// From the bottom up, each row from the datum end.
    places: Vec<Mark>,
    spots: Vec<Spot>,
    /// The row of each place.
    row_of: Vec<usize>,
    /// The height of each row, with the stretch of its places.
    rows: Vec<(i64, usize, usize)>,
    /// Whether each row is liked.
    liked: Vec<bool>,
    demands: Vec<Demand>,
    /// For each place the demands that it meets.
    met_by: Vec<Vec<u32>>,
    /// For each demand the stretches of places that meet it.
    meeting: Vec<Vec<(usize, usize)>>,
}

/// Whether a part of the air space is covered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Answer {
    Covered,
    Open,
}

/// A choice of places, being worked on.
#[derive(Debug)]
pub(super) struct Search<'a> {
    plane: &'a Plane,
    /// How far apart the plumb lines lie on which rows are asked for at first.
    pitch: i64,
    random: Random,
    /// Demands for places; those of the rows are made anew with the rows.
    wanted: Vec<Demand>,
    /// Places of demands that no hole can meet.
    missed: Vec<Spot>,
    board: Board,
    chosen: Vec<usize>,
    /// How many chosen places meet each demand.
    n_meeting: Vec<u32>,
    /// How many chosen places lie on each row.
    on_row: Vec<u32>,
    /// Demands that may be met by none.
    open: Vec<usize>,
    /// The height of a row on which no hole is put.
    closed: Option<i64>,
}

/// How many holes there are, on how many rows, and on how many that are not liked.
pub(super) type Score = (usize, usize, usize);

impl<'a> Search<'a> {
    /// A search that begins with holes and may use places on certain heights.
    pub(super) fn new(
        plane: &'a Plane,
        pitch: i64,
        wanted: Vec<Demand>,
        (start, places): (&[Mark], Vec<Mark>),
    ) -> Self {
        let mut search = Self {
            plane,
            pitch,
            random: Random::new(SEED),
            wanted,
            missed: Vec::new(),
            board: Board::of(plane, places, Vec::new()),
            chosen: Vec::new(),
            n_meeting: Vec::new(),
            on_row: Vec::new(),
            open: Vec::new(),
            closed: None,
        };
        search.set_up(start);
        search
    }

    /// The chosen holes.
    pub(super) fn marks(&self) -> Vec<Mark> {
        let mut marks = self.marks_as_chosen();
        crate::order::sort(&mut marks);
        marks
    }

    fn marks_as_chosen(&self) -> Vec<Mark> {
        self.chosen.iter().map(|&place| self.board.places[place]).collect()
    }

    /// Places that no hole can reach, the farthest from any first, and places over which no row can lie.
    pub(super) fn missed(&self) -> Vec<Spot> {
        let holes = self.holes();
        let [left, right, ..] = self.plane.bounds();
        let gaps = gaps(self.plane, &holes, self.plane.bounds()).into_iter();
        let places = gaps.map(|gap| Demand::place(self.plane, gap));
        let rows = plumb::too_far(self.plane, &holes, (left, right)).map(|far| far.demand);
        let no_room = |demand: &Demand| !demand.has_room(self.plane);
        let mut out_of_reach: Vec<Spot> =
            places.filter(no_room).map(|demand| demand.spot).collect();
        let far = |gap: &Spot| self.plane.nearest_mark(*gap, 4 * self.plane.reach);
        crate::order::sort_by_key(&mut out_of_reach, |gap| Reverse(far(gap).unwrap_or(i64::MAX)));
        out_of_reach.extend(rows.filter(no_room).map(|demand| demand.spot));
        out_of_reach.extend(&self.missed);
        out_of_reach
    }

    /// The chosen holes and those that are not the planner's to choose.
    fn holes(&self) -> Vec<Spot> {
        let chosen = self.chosen.iter().map(|&place| self.board.spots[place]);
        chosen.chain(self.plane.given.iter().copied()).collect()
    }

    /// Adds holes until all is covered.
    pub(super) fn complete(&mut self) {
        loop {
            self.fill();
            if self.ask(self.plane.bounds()) == Answer::Covered {
                return;
            }
        }
    }

    /// Takes out every hole that is not needed.
    pub(super) fn thin(&mut self) {
        let (regular, before) = (self.marks_as_chosen(), self.score());
        for place in self.chosen.clone() {
            if self.chosen.contains(&place) {
                self.change(&[place], &[]);
            }
        }
        // Where none was needless, holes stay as regular as they were.
        if before <= self.score() {
            self.restore(&regular);
        }
    }

    /// Takes out every hole that nothing would miss; the others stay where they are.
    pub(super) fn drop_needless(&mut self) {
        for mark in self.marks() {
            let before = self.marks_as_chosen();
            let Ok(place) = self.board.places.binary_search(&mark) else { continue };
            let spot = self.board.spots[place];
            self.remove(place);
            if !self.open.is_empty() || self.ask(self.around(&[spot])) == Answer::Open {
                self.restore(&before);
            }
        }
    }

    /// Takes out some neighbouring holes and fills anew, a number of times; keeps what is no worse.
    pub(super) fn improve(&mut self, rounds: usize) {
        for round in 0..rounds {
            if round % ROW_EVERY == 0 {
                self.clear_row();
                continue;
            }
            let at = self.random.below(self.chosen.len());
            let Some(&centre) = self.chosen.get(at) else { return };
            let n_out = 1 + self.random.below(MOST_OUT);
            let nearest = self.nearest(centre, n_out);
            self.change(&nearest, &[]);
        }
    }

    /// Takes all holes of a row to another that is used or liked, or fills anew on other rows.
    fn clear_row(&mut self) {
        let used = |row: &usize| 0 < self.on_row[*row];
        let rows: Vec<usize> = (0..self.on_row.len()).filter(used).collect();
        let Some(&row) = rows.get(self.random.below(rows.len())) else { return };
        let mine = |place: &usize| self.board.row_of[*place] == row;
        let mut out: Vec<usize> = self.chosen.iter().copied().filter(mine).collect();
        let goal = self.row_beside(row).filter(|_| self.random.below(2) == 0);
        let moved: Vec<usize> = goal.map_or(Vec::new(), |goal| {
            out.iter().filter_map(|&place| self.board.nearest_on(goal, place)).collect()
        });
        if moved.is_empty() {
            let n_beside = self.random.below(MOST_BESIDE);
            let beside = |&place: &usize| self.nearest(place, n_beside + 1);
            out = out.iter().flat_map(beside).chain(out.iter().copied()).collect();
            crate::order::sort(&mut out);
            out.dedup();
        }
        self.closed = Some(self.board.rows[row].0);
        self.change(&out, &moved);
        self.closed = None;
    }

    /// The next row above or below one that is used or liked.
    fn row_beside(&mut self, row: usize) -> Option<usize> {
        let wanted = |other: &usize| 0 < self.on_row[*other] || self.board.liked[*other];
        if self.random.below(2) == 0 {
            (row + 1..self.on_row.len()).find(wanted)
        } else {
            (0..row).rev().find(wanted)
        }
    }

    /// Takes out holes, puts others in and fills what is left open; takes it back when it comes out worse.
    fn change(&mut self, out: &[usize], put: &[usize]) {
        let before = self.marks_as_chosen();
        let score = self.score();
        let taken_out: Vec<Spot> = out.iter().map(|&place| self.board.spots[place]).collect();
        let mut gone = taken_out.clone();
        out.iter().for_each(|&place| self.remove(place));
        for &place in put {
            if !self.chosen.contains(&place) {
                self.add(place);
            }
        }
        for _ in 0..MOST_ASKED {
            self.fill();
            if !self.open.is_empty() {
                break;
            }
            gone.extend(self.prune(self.around(&taken_out)));
            if score < self.score() {
                break;
            }
            // Only what the holes that are gone reached can have opened.
            if self.ask(self.around(&gone)) == Answer::Covered {
                return;
            }
        }
        self.restore(&before);
    }

    /// The rectangle that holes reach.
    fn around(&self, spots: &[Spot]) -> [i64; 4] {
        let reach = self.plane.reach;
        let around = spots.iter().map(|s| [s.x - reach, s.x + reach, s.y - reach, s.y + reach]);
        let both = |a: [i64; 4], b: [i64; 4]| {
            [a[0].min(b[0]), a[1].max(b[1]), a[2].min(b[2]), a[3].max(b[3])]
        };
        around.reduce(both).unwrap_or_default()
    }

    /// Asks for what is still open in a rectangle, between the places that were asked for before.
    fn ask(&mut self, within: [i64; 4]) -> Answer {
        let holes = self.holes();
        let [left, right, ..] = within;
        let gaps = gaps(self.plane, &holes, within).into_iter();
        let places = gaps.map(|gap| Demand::place(self.plane, gap));
        let rows = plumb::too_far(self.plane, &holes, (left, right)).map(|far| far.demand);
        let mut answer = Answer::Covered;
        for demand in places.chain(rows) {
            if !demand.has_room(self.plane) || self.missed.contains(&demand.spot) {
                continue;
            }
            answer = Answer::Open;
            if !self.board.can_meet(&demand) {
                let Some(mark) = demand.best_mark(self.plane) else {
                    self.missed.push(demand.spot);
                    continue;
                };
                self.wanted.push(demand);
                let chosen = self.marks();
                self.board.places.push(mark);
                self.set_up(&chosen);
                return Answer::Open;
            }
            self.wanted.push(demand);
            self.open.push(self.n_meeting.len());
            self.n_meeting.push(0);
            self.board.put(demand);
        }
        answer
    }

    /// How good the choice is.
    pub(super) fn score(&self) -> Score {
        let used = || self.on_row.iter().zip(&self.board.liked).filter(|(n, _)| 0 < **n);
        (self.chosen.len(), used().count(), used().filter(|(_, liked)| !**liked).count())
    }

    /// Makes the board anew, with a place for each demand that has none.
    fn set_up(&mut self, chosen: &[Mark]) {
        let mut places = self.board.places.clone();
        places.extend(chosen);
        for _ in 0..MOST_ROWS_ADDED {
            let demands = self.all_demands(&mut places);
            let board = Board::of(self.plane, std::mem::take(&mut places), demands);
            let lonely = board.lonely().map(|demand| demand.best_mark(self.plane));
            let added: Vec<Mark> = lonely.flatten().collect();
            places.clone_from(&board.places);
            self.board = board;
            if added.is_empty() {
                break;
            }
            // One mark often serves the demands beside it as well.
            places.extend(added);
        }
        self.drop_missed();
        self.n_meeting = vec![0; self.board.demands.len()];
        self.on_row = vec![0; self.board.rows.len()];
        self.open = (0..self.board.demands.len()).collect();
        self.chosen.clear();
        for mark in chosen {
            if let Ok(place) = self.board.places.binary_search(mark) {
                self.add(place);
            }
        }
    }

    fn all_demands(&self, places: &mut Vec<Mark>) -> Vec<Demand> {
        crate::order::sort(places);
        places.dedup();
        let mut heights: Vec<i64> = places.iter().map(|&mark| self.plane.spot(mark).y).collect();
        heights.extend(self.plane.given.iter().map(|hole| hole.y));
        crate::order::sort(&mut heights);
        heights.dedup();
        let rows = plumb::demands(self.plane, self.pitch, &heights);
        let all = self.wanted.iter().copied().chain(rows);
        // What a given hole meets needs no other.
        all.filter(|demand| !self.plane.given.iter().any(|hole| demand.is_met_by(*hole))).collect()
    }

    /// Takes the demands that no place can meet off the board and remembers where they are.
    fn drop_missed(&mut self) {
        let missed: Vec<Spot> = self.board.lonely().map(|demand| demand.spot).collect();
        if missed.is_empty() {
            return;
        }
        let can_be_met = |demand: &Demand| !missed.contains(&demand.spot);
        self.wanted.retain(can_be_met);
        let places = std::mem::take(&mut self.board.places);
        let demands = std::mem::take(&mut self.board.demands);
        let demands = demands.into_iter().filter(can_be_met).collect();
        self.board = Board::of(self.plane, places, demands);
        self.missed.extend(missed);
        crate::order::sort(&mut self.missed);
        self.missed.dedup();
    }

    fn add(&mut self, place: usize) {
        self.chosen.push(place);
        self.on_row[self.board.row_of[place]] += 1;
        for &demand in &self.board.met_by[place] {
            self.n_meeting[index(demand)] += 1;
        }
    }

    fn remove(&mut self, place: usize) {
        if let Some(at) = self.chosen.iter().position(|&chosen| chosen == place) {
            self.take(at);
        }
    }

    fn take(&mut self, at: usize) {
        let place = self.chosen.remove(at);
        self.on_row[self.board.row_of[place]] -= 1;
        for &demand in &self.board.met_by[place] {
            let demand = index(demand);
            self.n_meeting[demand] -= 1;
            if self.n_meeting[demand] == 0 {
                self.open.push(demand);
            }
        }
    }

    fn restore(&mut self, marks: &[Mark]) {
        // The board may have got new places since.
        let places = marks.iter().filter_map(|mark| self.board.places.binary_search(mark).ok());
        let chosen: Vec<usize> = places.collect();
        let gone: Vec<usize> =
            self.chosen.iter().copied().filter(|place| !chosen.contains(place)).collect();
        gone.into_iter().for_each(|place| self.remove(place));
        for &place in &chosen {
            if !self.chosen.contains(&place) {
                self.add(place);
            }
        }
        // In the order they were in, so that the same draw means the same hole.
        self.chosen = chosen;
        self.open.clear();
    }

    /// Works from one side to the other: of what is still open, the outermost demand is met next.
    fn fill(&mut self) {
        let [x, y] = SIDES[self.random.below(SIDES.len())];
        loop {
            let n_meeting = &self.n_meeting;
            self.open.retain(|&demand| n_meeting[demand] == 0);
            let far = |&demand: &usize| {
                let spot = self.board.demands[demand].spot;
                (spot.x * x + spot.y * y, demand)
            };
            let Some(outermost) = self.open.iter().copied().min_by_key(far) else { return };
            let Some(place) = self.best_for(outermost) else { return };
            self.add(place);
        }
    }

    /// The place that meets a demand and most others, with some chance.
    fn best_for(&mut self, demand: usize) -> Option<usize> {
        let meeting = &self.board.meeting[demand];
        let n_places: usize = meeting.iter().map(|(from, to)| to - from).sum();
        let stride = 1 + n_places / MOST_LOOKED_AT;
        let skip = self.random.below(stride);
        let places = meeting.iter().flat_map(|&(from, to)| from..to).skip(skip).step_by(stride);
        // Where a row is to go, rows that there are already count for much.
        let eager = if self.closed.is_some() { EAGER } else { 1 };
        let mut best: Option<(usize, usize)> = None;
        for place in places.filter(|&place| Some(self.board.spots[place].y) != self.closed) {
            let met = &self.board.met_by[place];
            let gain = met.iter().filter(|&&demand| self.n_meeting[index(demand)] == 0).count();
            let row = self.board.row_of[place];
            let used = usize::from(0 < self.on_row[row]) + usize::from(self.board.liked[row]);
            let value = gain * 16 + self.random.below(gain * 2 + 1) + used * gain * eager;
            if best.is_none_or(|(most, _)| most < value) {
                best = Some((value, place));
            }
        }
        best.map(|(_, place)| place)
    }

    /// Takes out holes of a rectangle that no demand needs, those added last first, and tells where they
    /// were.
    fn prune(&mut self, [left, right, bottom, top]: [i64; 4]) -> Vec<Spot> {
        let mut gone = Vec::new();
        let mut at = self.chosen.len();
        while 0 < at {
            at -= 1;
            let place = self.chosen[at];
            let spot = self.board.spots[place];
            let inside = left <= spot.x && spot.x <= right && bottom <= spot.y && spot.y <= top;
            let needed = |&demand: &u32| self.n_meeting[index(demand)] < 2;
            if inside && !self.board.met_by[place].iter().any(needed) {
                self.take(at);
                gone.push(spot);
            }
        }
        gone
    }

    fn nearest(&self, centre: usize, n: usize) -> Vec<usize> {
        let spot = |place: usize| self.board.spots[place];
        let far = |&place: &usize| Reverse((spot(place).squared(spot(centre)), place));
        let mut near: BinaryHeap<Reverse<(i64, usize)>> = self.chosen.iter().map(far).collect();
        std::iter::from_fn(|| near.pop()).take(n).map(|Reverse((_, place))| place).collect()
    }
}

/// A position that was kept in half the room.
fn index(demand: u32) -> usize {
    usize::try_from(demand).unwrap_or(usize::MAX)
}

const SEED: u64 = 1911;
/// The most neighbouring holes taken out at once.
const MOST_OUT: usize = 8;
/// So often a whole row is taken out.
const ROW_EVERY: usize = 3;
/// So many holes beside those of a row are taken out with them, less one.
const MOST_BESIDE: usize = 4;
/// How much more a row that there is already counts when another is to go.
const EAGER: usize = 10;
/// How often what is left open after a change is asked for.
const MOST_ASKED: usize = 4;
/// The most places looked at for one demand.
const MOST_LOOKED_AT: usize = 48;
/// How often rows are added for demands that have none; each may ask for more above it.
const MOST_ROWS_ADDED: usize = 6;
/// The sides from which holes are filled in.
const SIDES: [[i64; 2]; 8] = [[1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [-1, 1], [1, -1], [-1, -1]];

/// An empty list for each place, with room for the demands that it meets.
fn room_for(meeting: &[Vec<(usize, usize)>], n_places: usize) -> Vec<Vec<u32>> {
    // How many stretches begin at each place, less those that end there.
    let mut begin: Vec<isize> = vec![0; n_places + 1];
    for &(from, to) in meeting.iter().flatten() {
        begin[from] += 1;
        begin[to] -= 1;
    }
    let mut n_met = 0;
    let room = begin[..n_places].iter().map(|more| {
        n_met += more;
        Vec::with_capacity(usize::try_from(n_met).unwrap_or(0))
    });
    room.collect()
}

impl Board {
    fn of(plane: &Plane, mut places: Vec<Mark>, demands: Vec<Demand>) -> Self {
        crate::order::sort(&mut places);
        places.dedup();
        let spots: Vec<Spot> = places.iter().map(|&mark| plane.spot(mark)).collect();
        let mut rows: Vec<(i64, usize, usize)> = Vec::new();
        let mut row_of = Vec::with_capacity(places.len());
        for (idx, spot) in spots.iter().enumerate() {
            match rows.last_mut() {
                Some((y, _, to)) if *y == spot.y => *to = idx + 1,
                _ => rows.push((spot.y, idx, idx + 1)),
            }
            row_of.push(rows.len() - 1);
        }
        let is_liked = |&(_, from, _): &(i64, usize, usize)| {
            plane.liked.binary_search(&places[from].up).is_ok()
        };
        let liked = rows.iter().map(is_liked).collect();
        let mut board = Self {
            places,
            spots,
            row_of,
            rows,
            liked,
            demands: Vec::new(),
            met_by: Vec::new(),
            meeting: Vec::new(),
        };
        let meeting = demands.iter().map(|demand| board.meeting(demand).collect());
        let meeting: Vec<Vec<(usize, usize)>> = meeting.collect();
        board.met_by = room_for(&meeting, board.places.len());
        demands.into_iter().zip(meeting).for_each(|(demand, meeting)| board.enter(demand, meeting));
        board
    }

    /// Adds a demand.
    fn put(&mut self, demand: Demand) {
        let meeting = self.meeting(&demand).collect();
        self.enter(demand, meeting);
    }

    fn enter(&mut self, demand: Demand, meeting: Vec<(usize, usize)>) {
        let idx = u32::try_from(self.demands.len()).unwrap_or(u32::MAX);
        for &(from, to) in &meeting {
            self.met_by[from..to].iter_mut().for_each(|met| met.push(idx));
        }
        self.meeting.push(meeting);
        self.demands.push(demand);
    }

    /// Whether any place meets a demand.
    fn can_meet(&self, demand: &Demand) -> bool {
        self.meeting(demand).next().is_some()
    }

    /// The stretches of places that meet a demand, row by row.
    fn meeting(&self, demand: &Demand) -> impl Iterator<Item = (usize, usize)> {
        let (low, high) = demand.heights();
        let first = self.rows.partition_point(|row| row.0 < low);
        let last = self.rows.partition_point(|row| row.0 <= high);
        let x = demand.spot.x;
        self.rows[first..last.max(first)].iter().filter_map(move |&(y, from, to)| {
            let aside = demand.aside(y)?;
            let row = &self.spots[from..to];
            let left = from + row.partition_point(|spot| spot.x < x - aside);
            let right = from + row.partition_point(|spot| spot.x <= x + aside);
            (left < right).then_some((left, right))
        })
    }

    /// The place of a row that is nearest to another place across.
    fn nearest_on(&self, row: usize, place: usize) -> Option<usize> {
        let (_, from, to) = self.rows[row];
        let x = self.spots[place].x;
        (from..to).min_by_key(|place| (self.spots[*place].x - x).abs())
    }

    /// The demands that no place meets.
    fn lonely(&self) -> impl Iterator<Item = &Demand> {
        let pairs = self.demands.iter().zip(&self.meeting);
        pairs.filter(|(_, meeting)| meeting.is_empty()).map(|(demand, _)| demand)
    }
}
