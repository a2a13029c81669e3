use super::*;
use crate::{drilling::legal::Even, geometry::Span, quantity::inches, random::Random};

/// A column whose holes may be at wanted rows; it is as high as the highest of them.
fn column(rows: &[i64], window: i64, start: i64, spread: i64) -> Column {
    let last = rows.iter().copied().max().unwrap_or(0);
    Column {
        compartment: 0,
        within: Span { from: inches(0.0), to: inches(16.0) },
        centre: inches(8.0),
        first: 0,
        across: (0..=last).map(|row| rows.contains(&row).then_some(32)).collect(),
        reach: Span { from: inches(0.0), to: inches(96.0) },
        window,
        start,
        spread,
        even: Even { from: 0, to: last * PARTS, n_given: 0 },
    }
}

fn lines_of(heights: &Heights) -> Vec<i64> {
    let mut lines: Vec<i64> = heights.chains.iter().flatten().flatten().copied().collect();
    lines.sort_unstable();
    lines.dedup();
    lines
}

/// The fewest holes by a search in breadth: which rows can be reached with one hole more.
fn fewest_holes(column: &Column) -> Option<usize> {
    let legal = |row: &i64| column.legal(*row);
    let mut reached: Vec<i64> = (0..=column.start.min(column.last())).filter(legal).collect();
    for n_holes in 1..=column.across.len() {
        if reached.iter().any(|&row| column.window <= row) {
            return Some(n_holes);
        }
        let near = |row: &i64| reached.iter().any(|&at| at < *row && *row <= at + column.spread);
        reached = (0..=column.last()).filter(|row| legal(row) && near(row)).collect();
    }
    None
}

fn random_column(random: &mut Random, n_rows: usize) -> Column {
    let whole = |count: usize| i64::try_from(count).unwrap_or(0);
    let open = 1 + random.below(4);
    let mut rows: Vec<i64> = (0..whole(n_rows)).filter(|_| random.below(4) < open).collect();
    rows.push(whole(n_rows - 1));
    let spread = whole(2 + random.below(n_rows / 2));
    let window = whole(n_rows - 1 - random.below(3));
    column(&rows, window, spread - 1 + whole(random.below(3)), spread)
}

#[test]
fn the_furthest_reach_needs_as_few_holes_as_a_search_in_breadth() {
    let mut random = Random::new(1);
    let mut n_filled = 0;
    for _ in 0..4_000 {
        let n_rows = 4 + random.below(60);
        let column = random_column(&mut random, n_rows);
        let found = shortest(&column).ok().map(|chain| chain.len());
        assert_eq!(found, fewest_holes(&column), "{column:?}");
        n_filled += usize::from(found.is_some());
    }
    assert!(1_000 < n_filled && n_filled < 4_000, "{n_filled} of them can be filled");
}

/// Whether a column has a chain of so many holes on wanted lines, by trying them all.
fn fits(column: &Column, lines: &[i64], n_holes: usize) -> bool {
    let on_lines = |row: i64| if lines.contains(&row) { column.at(row) } else { None };
    let across = (0..=column.last()).map(on_lines).collect();
    fewest_holes(&Column { across, ..column.clone() }) == Some(n_holes)
}

/// The fewest lines, by trying every set of rows, small sets first.
fn fewest_lines(columns: &[Column], n_rows: u32) -> usize {
    let chains = columns.iter().map(|column| (column, fewest_holes(column)));
    let filled: Vec<(&Column, usize)> =
        chains.filter_map(|(column, n_holes)| Some((column, n_holes?))).collect();
    let sets = 0..1_u32 << n_rows;
    let works = |set: &u32| {
        let lines: Vec<i64> =
            (0..n_rows).filter(|row| set >> row & 1 == 1).map(i64::from).collect();
        filled.iter().all(|(column, n_holes)| fits(column, &lines, *n_holes))
    };
    let counts = sets.filter(works).map(u32::count_ones);
    usize::try_from(counts.min().expect("all rows work")).expect("few rows")
}

#[test]
fn small_walls_have_as_few_lines_as_all_sets_of_rows_tried() {
    let mut random = Random::new(2);
    let mut n_proven = 0;
    for round in 0..60 {
        let columns: Vec<Column> =
            (0..2 + random.below(4)).map(|_| random_column(&mut random, 11)).collect();
        let heights = choose(&columns, &Wanted::default(), &Search::Thorough);
        let quick = choose(&columns, &Wanted::default(), &Search::Quick);
        let fewest = fewest_lines(&columns, 11);
        let found = lines_of(&heights).len();
        assert_eq!(found, fewest, "wall {round}: {columns:?}");
        assert!(heights.bound <= fewest, "the bound {} is above {fewest}", heights.bound);
        assert!(found <= lines_of(&quick).len(), "never worse than the quick way");
        n_proven += usize::from(heights.bound == fewest);
        for (column, chain) in columns.iter().zip(&heights.chains) {
            assert_eq!(
                chain.as_ref().map(Vec::len),
                fewest_holes(column),
                "as few holes as can be"
            );
        }
    }
    assert!(57 <= n_proven, "{n_proven} of 60 proved");
}

/// Every edge of a graph becomes a bay with holes at two heights only: lines are a vertex cover.
///
/// Covers of the named graphs are textbook figures: n / 2 rounded up for a cycle, n - 1 for a
/// complete graph, 6 for the Petersen graph.
#[test]
fn the_fewest_lines_of_a_graph_are_its_vertex_cover() {
    let cycle = |n: i64| (0..n).map(|at| (at, (at + 1) % n)).collect::<Vec<_>>();
    let complete =
        |n: i64| (0..n).flat_map(|a| (a + 1..n).map(move |b| (a, b))).collect::<Vec<_>>();
    let spokes = (0..5).flat_map(|at| [(at, at + 5), (at + 5, (at + 2) % 5 + 5)]);
    let petersen: Vec<(i64, i64)> = cycle(5).into_iter().chain(spokes).collect();
    let graphs = [
        ("cycle of 5", cycle(5), 3),
        ("cycle of 8", cycle(8), 4),
        ("complete graph of 6", complete(6), 5),
        ("Petersen graph", petersen, 6),
        ("star", (1..7).map(|at| (0, at)).collect(), 1),
    ];
    for (name, edges, cover) in graphs {
        let bays: Vec<Column> = edges.iter().map(|&(a, b)| column(&[a, b], 0, 100, 100)).collect();
        let heights = choose(&bays, &Wanted::default(), &Search::Thorough);
        assert_eq!(lines_of(&heights).len(), cover, "{name}");
        assert!(heights.bound <= cover, "{name}: bound {}", heights.bound);
    }
}

#[test]
fn the_bound_of_windows_that_chain_is_met() {
    // Three bays with windows 0-4, 3-7 and 6-9 need two lines, and 3 and 4 with 6 or 7 will do.
    let rows = |from: i64, to: i64| (from..=to).collect::<Vec<i64>>();
    let bays = [
        column(&rows(0, 4), 0, 100, 100),
        column(&rows(3, 7), 0, 100, 100),
        column(&rows(6, 9), 0, 100, 100),
    ];
    let heights = choose(&bays, &Wanted::default(), &Search::Quick);
    assert_eq!((lines_of(&heights).len(), heights.bound), (2, 2), "proved at once");
}

#[test]
fn a_line_that_is_there_already_costs_nothing_and_a_liked_one_is_taken() {
    let rows: Vec<i64> = (0..=20).collect();
    let bays = [column(&rows, 15, 100, 100)];
    let lines = |wanted: Wanted| lines_of(&choose(&bays, &wanted, &Search::Quick));
    assert_eq!(lines(Wanted::default()), [20], "where the distances are even");
    let taken = Wanted { taken: vec![17], ..Wanted::default() };
    assert_eq!(lines(taken), [17], "the line of another hole");
    let liked = Wanted { preferred: vec![16, 3], ..Wanted::default() };
    assert_eq!(lines(liked), [16], "the height that is liked");
}

#[test]
fn lines_are_as_even_as_the_best_of_all_pairs() {
    let mut random = Random::new(3);
    for round in 0..40 {
        let columns: Vec<Column> = (0..3).map(|_| random_column(&mut random, 14)).collect();
        let heights = choose(&columns, &Wanted::default(), &Search::Thorough);
        let n_lines = lines_of(&heights).len();
        let uneven = |lines: &[i64]| -> Option<i64> {
            let costs = columns.iter().filter(|column| fewest_holes(column).is_some());
            costs.map(|column| least_uneven(column, lines)).sum()
        };
        let sets = 0..1_u32 << 14;
        let best = sets
            .filter(|set| usize::try_from(set.count_ones()) == Ok(n_lines))
            .filter_map(|set| {
                let lines: Vec<i64> = (0..14).filter(|row| set >> row & 1 == 1).collect();
                uneven(&lines)
            })
            .min();
        assert_eq!(uneven(&lines_of(&heights)), best, "wall {round}");
    }
}

/// A wall with its best plan by an exact solver.
struct Solved {
    class: &'static str,
    columns: Vec<Column>,
    n_lines: usize,
    uneven: i64,
}

/// The walls of `best.txt`.
fn solved() -> Vec<Solved> {
    let mut walls: Vec<Solved> = Vec::new();
    let lines = include_str!("best.txt").lines().filter(|line| !line.starts_with('#'));
    for line in lines {
        let words: Vec<&'static str> = line.split(' ').collect();
        let number = |at: usize| words[at].parse::<i64>().expect("a number");
        if words[0] == "wall" {
            let n_lines = words[3].parse().expect("a number of lines");
            walls.push(Solved { class: words[1], columns: Vec::new(), n_lines, uneven: number(4) });
            continue;
        }
        let stretch = |text: &&str| {
            let (from, to) = text.split_once('-').unwrap_or((text, text));
            let row = |text: &str| text.parse::<i64>().expect("a row");
            row(from)..=row(to)
        };
        let rows: Vec<i64> = words[7..].iter().flat_map(stretch).collect();
        let even = Even { from: number(5), to: number(6), n_given: 0 };
        let column = column(&rows, number(2), number(3), number(4));
        let first = number(1);
        let across = column.across.iter().skip(usize::try_from(first).unwrap_or(0)).copied();
        let column = Column { first, across: across.collect(), even, ..column };
        let alike = usize::try_from(number(0)).expect("a count");
        let wall = walls.last_mut().expect("a wall comes first");
        wall.columns.extend(std::iter::repeat_n(column, alike));
    }
    walls
}

/// Lines are as few as an exact solver proves, and their distances within half a per cent of the best, class
/// by class (two per cent for the hardest); no plan may be better than the best.
#[test]
fn lines_are_as_few_and_as_even_as_an_exact_solver_has_them() {
    let mut sums: Vec<(&str, i64, i64)> = Vec::new();
    let walls = solved();
    assert_eq!(walls.len(), 96, "twelve of each class");
    for wall in walls {
        let heights = choose(&wall.columns, &Wanted::default(), &Search::Thorough);
        let lines = lines_of(&heights);
        assert_eq!(lines.len(), wall.n_lines, "{}", wall.class);
        assert_eq!(heights.bound, wall.n_lines, "{}: proved", wall.class);
        let filled = wall.columns.iter().filter(|column| shortest(column).is_ok());
        let uneven: Option<i64> = filled.map(|column| least_uneven(column, &lines)).sum();
        let uneven = uneven.expect("every column is filled");
        assert!(wall.uneven <= uneven, "{}: {uneven} is better than the best", wall.class);
        match sums.last_mut().filter(|(class, ..)| *class == wall.class) {
            Some((_, best, found)) => (*best, *found) = (*best + wall.uneven, *found + uneven),
            None => sums.push((wall.class, wall.uneven, uneven)),
        }
    }
    for (class, best, found) in sums {
        let most = if class == "Stress" { best / 50 } else { best / 200 };
        assert!(found - best <= most, "{class}: {found}, the best is {best}");
    }
}

/// The least distance of the holes of a shortest chain on wanted lines from even ones, by trying all chains.
fn least_uneven(column: &Column, lines: &[i64]) -> Option<i64> {
    let n_holes = fewest_holes(column)?;
    let mut ends: Vec<(i64, i64)> = Vec::new();
    for hole in 1..=n_holes {
        let off = |row: i64| (row * PARTS - column.even.at(hole, n_holes)).abs();
        let legal = lines.iter().copied().filter(|&row| column.legal(row));
        ends = if hole == 1 {
            legal.filter(|&row| row <= column.start).map(|row| (row, off(row))).collect()
        } else {
            let near = |row: i64| {
                let below = ends.iter().filter(|(at, _)| *at < row && row <= at + column.spread);
                below.map(|(_, cost)| cost + off(row)).min().map(|cost| (row, cost))
            };
            legal.filter_map(near).collect()
        };
    }
    ends.into_iter().filter(|(row, _)| column.window <= *row).map(|(_, cost)| cost).min()
}
