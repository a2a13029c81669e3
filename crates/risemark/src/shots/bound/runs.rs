//! What a run can hold: it has no gap over the idle limit, so that the settings in it must be filled.

use super::{
    super::problem::{Problem, Times, longer},
    ROUNDING, Wall,
};
use crate::quantity::count;

/// What fills settings at a wall.
pub(super) struct Filling<'a> {
    problem: &'a Problem,
    wall: &'a Wall,
    /// For each column how long its shots fill a setting, each with the gap after it; the longest first.
    fills: Vec<Vec<f64>>,
    /// How many shots of each column all runs together can follow upon a setting.
    filled: Vec<usize>,
}

impl<'a> Filling<'a> {
    pub(super) fn new(problem: &'a Problem, wall: &'a Wall) -> Self {
        let fills = wall.columns.iter().map(|column| {
            let mut fills: Vec<f64> =
                column.iter().map(|shot| problem.spots[*shot].spray + problem.times.idle).collect();
            crate::order::sort_numbers(&mut fills);
            fills.reverse();
            fills
        });
        let mut filling = Self { problem, wall, fills: fills.collect(), filled: Vec::new() };
        filling.filled = (0..wall.columns.len()).map(|own| filling.n_filled(own)).collect();
        filling
    }

    /// How many shots of a column so many runs hold at most.
    pub(super) fn most_shots(&self, column: usize, n_runs: usize) -> usize {
        self.filled[column] + n_runs
    }

    /// The least number of runs: settings that cannot be filled lie between runs, and all runs together
    /// last no longer than the work and a gap of the idle limit after every shot.
    pub(super) fn fewest_runs(&self, spread: &[f64]) -> usize {
        let columns = self.wall.columns.iter().zip(&self.filled);
        let by_columns = columns.map(|(column, n_filled)| column.len() - n_filled).max();
        let n_shots = self.wall.shots.len();
        let fits = |n_runs: usize| {
            let most = self.wall.work + count(n_shots - n_runs) * self.problem.times.idle;
            spread.get(n_runs - 1).is_none_or(|least| *least <= most + ROUNDING)
        };
        let by_time = (1..=n_shots).find(|n_runs| fits(*n_runs));
        by_columns.unwrap_or(1).max(by_time.unwrap_or(1))
    }

    /// How many settings of a column can be filled: each by at most one shot of every other column.
    fn n_filled(&self, own: usize) -> usize {
        let others = self.fills.iter().enumerate().filter(|(idx, _)| *idx != own);
        let others: Vec<&[f64]> = others.map(|(_, fills)| fills.as_slice()).collect();
        let needed = self.problem.times.setting - self.problem.times.idle;
        let n_shots = self.wall.columns[own].len();
        (1..n_shots).take_while(|n| can_fill(&others, *n, needed)).count()
    }

    /// How long a visit of so many runs lasts at least that gives one of some columns, two of them and so on
    /// a shot of some step, counted from zero.
    ///
    /// Of the given columns, let the first to have set after its k-th shot be at that time t, and let the
    /// last of their shots that starts before t end at e. The shot at e is its column's k-th at most, so
    /// that the visit lasts at least until t, and from e on for the settings and shots that are still to
    /// come in that column. From e to t, which is a setting at most, there are only shots of other
    /// columns, one of each; each of them is there for one k alone. So is each change of the nozzle, and
    /// where there is none, gaps are up to the idle limit. There both columns are the same only where
    /// others fill a whole setting.
    pub(super) fn lengths(&self, columns: &[&Vec<usize>], step: usize, n_runs: usize) -> Vec<f64> {
        if step < n_runs {
            return vec![0.0; columns.len()];
        }
        let fillers = self.fillers(columns, step);
        let sprayed = self.sprayed(columns, step);
        let n_given = 1..=columns.len();
        let n_spare = n_given.map(|n_given| columns.len() - n_given);
        n_spare.map(|n_spare| self.length(&fillers, &sprayed, n_runs, n_spare)).collect()
    }

    /// The same where all of some columns, or of their parts, are given a shot of some step, and only so
    /// many of the other columns fill settings, with so many shots in all.
    pub(super) fn length_of_all(
        &self,
        given: &[&Vec<usize>],
        (step, n_runs): (usize, usize),
        others: &Others<'_>,
        [n_columns, n_shots]: [usize; 2],
    ) -> f64 {
        if step < n_runs {
            return 0.0;
        }
        let fillers = others.fillers(step, n_columns, n_shots);
        self.length(&fillers, &self.sprayed(given, step), n_runs, 0)
    }

    /// What the columns fill that have fewer shots than the longest.
    pub(super) fn others(&self) -> Others<'_> {
        let columns = self.fills.iter().map(Vec::as_slice);
        let columns: Vec<&[f64]> =
            columns.filter(|fills| fills.len() < self.wall.longest).collect();
        let mut all: Vec<f64> = columns.iter().flat_map(|fills| fills.iter().copied()).collect();
        crate::order::sort_numbers(&mut all);
        all.reverse();
        Others { columns, all }
    }

    fn length(
        &self,
        fillers: &Fillers,
        [same, different]: &[Vec<f64>; 2],
        n_runs: usize,
        n_spare: usize,
    ) -> f64 {
        let Times { setting, idle, .. } = self.problem.times;
        let n_settings = same.len() + 1;
        let most = setting * count(n_settings) - idle;
        if setting <= fillers.most(n_spare) + idle + ROUNDING {
            return most + fillers.least_beyond(&same[n_runs - 1..], n_spare);
        }
        // One column alone cannot be given so much.
        let n_spare = n_spare.min(fillers.n_columns.saturating_sub(2));
        most + fillers.least_beyond(&different[n_runs - 1..], n_spare)
    }

    /// The least that is sprayed up to the k-th shot of a column and after the k-th of the same or another,
    /// or of another one, by k from one.
    fn sprayed(&self, columns: &[&Vec<usize>], step: usize) -> [Vec<f64>; 2] {
        let least = |column: &[usize], n_shots: usize| {
            let sprays = column
                .windows(n_shots)
                .map(|shots| shots.iter().map(|shot| self.problem.spots[*shot].spray).sum());
            sprays.fold(f64::INFINITY, f64::min)
        };
        let sums = (1..=step).map(|k| {
            // What comes before the first of the shots leaves room for the others, and so behind.
            let before =
                columns.iter().map(|column| least(&column[..column.len() - step - 1 + k], k));
            let after = columns.iter().map(|column| least(&column[k..], step + 1 - k));
            let (before, after) = (two_least(before), two_least(after));
            let same = before[0].0 + after[0].0;
            let other = if before[0].1 == after[0].1 {
                (before[0].0 + after[1].0).min(before[1].0 + after[0].0)
            } else {
                same
            };
            (same, other)
        });
        let (mut same, mut different): (Vec<f64>, Vec<f64>) = sums.unzip();
        for sums in [&mut same, &mut different] {
            crate::order::sort_numbers(sums);
            sums.reverse();
        }
        [same, different]
    }

    /// What fills where some columns are given a shot of some step.
    fn fillers(&self, columns: &[&Vec<usize>], step: usize) -> Fillers {
        let (mut sure, mut spare) = (Vec::new(), Vec::new());
        for (column, fills) in self.wall.columns.iter().zip(&self.fills) {
            let could = columns.iter().any(|given| given[0] == column[0]);
            let fills = &fills[..fills.len().min(step)];
            if could { spare.push(fills) } else { sure.push(fills) }
        }
        Fillers::new(&sure, &mut spare, step)
    }
}

/// Shots that fill settings of columns that are given a shot of some step: those of all other columns, and
/// of the spare ones among those that could be given it. The fewer are spare, the less is filled.
struct Fillers {
    /// How long the longest shot of each column fills, the longest first, and how many have to be spare.
    longest: Vec<(f64, usize)>,
    /// How long so many settings, from one, are filled by so many spare columns, from none.
    seconds: Vec<Vec<f64>>,
    /// How many shots of columns that are sure to fill there are in so many settings.
    n_sure: Vec<usize>,
    /// How many columns could be given the shot.
    n_columns: usize,
}

/// The columns with fewer shots than the longest.
pub(super) struct Others<'a> {
    /// How long the shots of each fill, the longest first.
    columns: Vec<&'a [f64]>,
    /// The same of all together.
    all: Vec<f64>,
}

impl Others<'_> {
    /// What so many of them fill at most, each in so many settings, with so many shots in all.
    fn fillers(&self, step: usize, n_columns: usize, n_shots: usize) -> Fillers {
        // The largest of some figures of the columns.
        let most = |figure: &dyn Fn(&[f64]) -> f64| -> Vec<f64> {
            let mut figures: Vec<f64> = self.columns.iter().map(|fills| figure(fills)).collect();
            crate::order::sort_numbers(&mut figures);
            figures.reverse();
            figures.truncate(n_columns);
            figures
        };
        let all: f64 = self.all.iter().take(n_shots).sum();
        let mut lengths: Vec<usize> = self.columns.iter().map(|fills| fills.len()).collect();
        lengths.sort_unstable_by(|a, b| b.cmp(a));
        let n_sure = (1..=step).map(|n| {
            let n_shots_of = lengths.iter().take(n_columns).map(|length| n.min(*length));
            n_shots.min(n_shots_of.sum())
        });
        let seconds = (1..=step).map(|n| {
            let by_columns = most(&|fills| fills.iter().take(n).sum()).into_iter().sum::<f64>();
            vec![by_columns.min(all)]
        });
        Fillers {
            longest: most(&|fills| fills[0]).into_iter().map(|fills| (fills, 0)).collect(),
            seconds: seconds.collect(),
            n_sure: n_sure.collect(),
            n_columns: 0,
        }
    }
}

impl Fillers {
    fn new(sure: &[&[f64]], spare: &mut Vec<&[f64]>, step: usize) -> Self {
        crate::order::sort_by(spare, |a: &&[f64], b: &&[f64]| b[0].total_cmp(&a[0]));
        let spared = spare.iter().enumerate().map(|(at, fills)| (fills[0], at + 1));
        let mut longest: Vec<(f64, usize)> =
            sure.iter().map(|fills| (fills[0], 0)).chain(spared).collect();
        crate::order::sort_by(&mut longest, |a, b| b.0.total_cmp(&a.0));
        let sum = |fills: &&[f64], n: usize| fills.iter().take(n).sum::<f64>();
        let seconds = (1..=step).map(|n_settings| {
            let mut sums: Vec<f64> = spare.iter().map(|fills| sum(fills, n_settings)).collect();
            crate::order::sort_numbers(&mut sums);
            let all: f64 = sure.iter().map(|fills| sum(fills, n_settings)).sum();
            let mut with = vec![all];
            with.extend(sums.iter().rev().scan(all, |all, sum| {
                *all += sum;
                Some(*all)
            }));
            with
        });
        let seconds = seconds.collect();
        let n_of = |n: usize| sure.iter().map(|fills| fills.len().min(n)).sum();
        let n_sure = (1..=step).map(n_of).collect();
        Self { longest, seconds, n_sure, n_columns: spare.len() }
    }

    /// How long one setting is filled at most where so many columns are spare.
    fn most(&self, n_spare: usize) -> f64 {
        self.seconds[0][n_spare]
    }

    /// How much the figure of some setting is beyond what fills it, the largest figure first: whatever
    /// fills which, some of the first settings get no more than their share, of seconds as of shots.
    fn least_beyond(&self, figures: &[f64], n_spare: usize) -> f64 {
        let (mut sum, mut most) = (0.0, f64::NEG_INFINITY);
        for (at, figure) in figures.iter().enumerate() {
            let n_settings = at + 1;
            sum += figure;
            let by_seconds = (sum - self.seconds[at][n_spare]) / count(n_settings);
            let n_shots = self.n_sure[at] / n_settings + n_spare;
            let filling = self.longest.iter().filter(|(_, n_spared)| *n_spared <= n_spare);
            let fills: f64 = filling.take(n_shots).map(|(fills, _)| fills).sum();
            most = longer(most, longer(by_seconds, figure - fills));
        }
        most
    }
}

/// Whether other columns may fill so many settings of one, each with so many seconds at least.
fn can_fill(others: &[&[f64]], n_settings: usize, needed: f64) -> bool {
    let all = others.iter().flat_map(|fills| fills.iter().take(n_settings));
    if all.sum::<f64>() + ROUNDING < count(n_settings) * needed {
        return false;
    }
    // Columns with enough shots are there in every setting; the others fill what is left of it.
    let (full, scarce): (Vec<&[f64]>, Vec<&[f64]>) =
        others.iter().partition(|fills| n_settings <= fills.len());
    are_enough(others, n_settings, needed)
        && are_enough(&scarce, n_settings, needed - full.iter().map(|fills| fills[0]).sum::<f64>())
}

/// Whether some columns have shots enough for the fewest of them that fill a setting, so many times.
fn are_enough(columns: &[&[f64]], n_settings: usize, needed: f64) -> bool {
    let mut longest: Vec<f64> = columns.iter().map(|fills| fills[0]).collect();
    crate::order::sort_numbers(&mut longest);
    let (mut filled, mut n_needed) = (0.0, 0);
    while filled < needed - ROUNDING {
        let Some(fills) = longest.pop() else { return false };
        filled += fills;
        n_needed += 1;
    }
    let n_shots: usize = columns.iter().map(|fills| fills.len().min(n_settings)).sum();
    n_settings * n_needed <= n_shots
}

/// The two least figures, with their places.
fn two_least(figures: impl Iterator<Item = f64>) -> [(f64, usize); 2] {
    let mut least = [(f64::INFINITY, usize::MAX); 2];
    for (at, figure) in figures.enumerate() {
        if figure < least[0].0 {
            least = [(figure, at), least[0]];
        } else if figure < least[1].0 {
            least[1] = (figure, at);
        }
    }
    least
}
