//! The sheets: what is seen here is what is printed.

use std::sync::Arc;

use leptos::{ev, prelude::*};
use risemark::{
    drilling::Effort,
    finding::{Finding, Severity},
    foam::pour_wall,
    job::{Job, Wall},
    plan::WallPlan,
    plan_wall,
    rules::Rules,
    shots::ShotPlan,
};
use risemark_sheets::{OfNoWall, Orientation, Paper, Sheet, SheetOptions, WallShots, sheets};

use super::{field::choice, findings, foam::order::searched};
use crate::{
    files,
    part::Part,
    planner::PlannedWall,
    poured::{Poured, poured_here},
    printing,
    route::Route,
    session::Session,
    words,
};

/// The word in an address that stands for all walls.
const EVERY: &str = "all";

/// The sheets of one wall, with what they were made of.
#[derive(Debug, Clone)]
struct Set {
    wall: Arc<Wall>,
    stops: Vec<Finding>,
    sheets: Arc<[Sheet]>,
    job: Arc<Job>,
    plan: Arc<WallPlan>,
    options: SheetOptions,
}

impl PartialEq for Set {
    /// Sheets are shared as long as nothing changes on them.
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.sheets, &other.sheets)
    }
}

/// The page with the sheets of a wall, or of all walls.
pub fn page(session: Session, id: String) -> AnyView {
    let poured = poured_here();
    // A search that goes on changes nothing on paper.
    let ordered = Memo::new(move |_| session.order.found(poured.with(|poured| poured.edition)));
    let sets = {
        let id = id.clone();
        Memo::new(move |earlier: Option<&Vec<Set>>| {
            let earlier = earlier.map_or(&[][..], Vec::as_slice);
            ordered.with(|ordered| sets((session, &*poured.get()), &id, ordered.as_ref(), earlier))
        })
    };
    let printable = Memo::new(move |_| {
        let ready =
            |set: &Set| set.stops.is_empty() || session.acknowledged(&set.wall.id).is_some();
        sets.with(|sets| !sets.is_empty() && sets.iter().all(ready))
    });
    Effect::new(move || {
        let all: Vec<Sheet> =
            sets.with(|sets| sets.iter().flat_map(|set| set.sheets.to_vec()).collect());
        // Without the rules the browser would choose the paper, so nothing is offered to be printed then.
        printable_rules(&all);
    });
    // Printing is a browser's own matter; it has nothing to answer.
    let print = move |_| drop(printing::print());
    view! {
        <main id="content" class="sheets-page" tabindex="-1">
            <div class="title screen-only">
                <h1>{words::SHEETS.text()}</h1>
                <p class="quiet">{words::PRINT_HINT.text()}</p>
            </div>
            <div class="fields row screen-only">
                {which(session, &id)}
                {choice((words::PAPER.text(), "paper"), words::PAPERS, paper(session))}
                {choice((words::ORIENTATION.text(), "orientation"), words::ORIENTATIONS, orientation(session))}
                <button type="button" id="print" class="main" disabled=move || !printable.get() on:click=print>
                    {words::PRINT.text()}
                </button>
            </div>
            {searched(session, poured)}
            {move || sets.with(Vec::is_empty).then(|| view! { <p>{words::NOTHING_TO_PRINT.text()}</p> })}
            {move || sets.get().into_iter().map(|set| shown(session, set)).collect_view()}
        </main>
    }
    .into_any()
}

fn printable_rules(sheets: &[Sheet]) {
    if let Err(refusal) = printing::prepare(sheets) {
        leptos::logging::error!("{refusal:?}");
    }
}

/// The sheets of the wanted walls; those that are the same as before are not drawn again.
fn sets(
    (session, poured): (Session, &Poured),
    id: &str,
    ordered: Option<&(Arc<ShotPlan>, Vec<Finding>)>,
    earlier: &[Set],
) -> Vec<Set> {
    let (job, rules) = (session.shared_job(), session.rules());
    let walls = session.planned.with(|planned| planned.walls.clone());
    let set = |(idx, planned): (usize, &PlannedWall)| {
        let wall = Arc::clone(&planned.wall);
        let is_same = |set: &&Set| Arc::ptr_eq(&set.job, &job) && set.wall.id == wall.id;
        let earlier = earlier.iter().find(is_same);
        let plan = best(&job, &rules, planned, earlier);
        // The bays of test shots may be in any wall.
        let here = pour_wall(&job, &poured.plan, &plan);
        let (flow, pour) = &here.product;
        // Turns belong to the holes of the plan that was put in order.
        let is_ordered = poured.plan.walls.get(idx) == Some(&*plan);
        let ordered = ordered.filter(|_| is_ordered);
        let said = ordered.iter().flat_map(|(_, said)| said);
        let of_job = poured.pour.findings.iter().filter(|finding| finding.place.wall.is_none());
        let found: Vec<Finding> = here.findings.iter().chain(of_job).chain(said).cloned().collect();
        let shots = WallShots::of(flow, pour, ordered.map(|(order, _)| (&**order, idx)));
        let options = SheetOptions {
            shots: shots.with_findings(&plan, &found, OfNoWall::at(idx, &poured.plan)),
            ..session.sheet_options(&wall.id)
        };
        if let Some(same) = earlier.filter(|set| set.options == options && set.plan == plan) {
            return same.clone();
        }
        let stops =
            plan.findings.iter().filter(|finding| finding.problem.severity() == Severity::Stop);
        Set {
            wall,
            stops: stops.cloned().collect(),
            sheets: sheets(&job, &plan, &rules, &options).into(),
            job: Arc::clone(&job),
            plan,
            options,
        }
    };
    let wanted =
        walls.iter().enumerate().filter(|(_, planned)| id == EVERY || planned.wall.id == id);
    wanted.map(set).collect()
}

/// The best plan of a wall: paper waits for no search.
fn best(job: &Job, rules: &Rules, planned: &PlannedWall, earlier: Option<&Set>) -> Arc<WallPlan> {
    if planned.is_best() {
        return Arc::clone(planned.plan());
    }
    earlier.map_or_else(
        || Arc::new(plan_wall(job, planned.plan().wall.number - 1, rules, Effort::Thorough)),
        |earlier| Arc::clone(&earlier.plan),
    )
}

fn shown(session: Session, set: Set) -> AnyView {
    let Wall { id, name, .. } = &*set.wall;
    let blocked = !set.stops.is_empty() && session.acknowledged(id).is_none();
    let stops = (!set.stops.is_empty()).then(|| stops(session, &set));
    let pictures = set.sheets.iter().map(|sheet| picture(name, sheet.clone())).collect_view();
    view! {
        <section class="set" class:blocked=blocked aria-label=name.clone()>
            {stops}
            {pictures}
        </section>
    }
    .into_any()
}

fn picture(wall: &str, sheet: Sheet) -> impl IntoView {
    let label = words::sheet_label(wall, sheet.number, sheet.of);
    let file = words::sheet_file(wall, sheet.number, sheet.of);
    let class = format!("sheet {}", printing::page_class(&sheet));
    let svg = sheet.svg.clone();
    // A browser that shows this page can save a file.
    let save = move |_| drop(files::save(&file, "image/svg+xml", &svg));
    view! {
        <figure>
            <div class=class role="img" aria-label=label.clone() inner_html=sheet.svg></div>
            <figcaption class="screen-only">
                <span class="quiet">{label.clone()}</span>
                <button type="button" aria-label=format!("{}: {label}", words::DOWNLOAD_SVG.text()) on:click=save>
                    {words::DOWNLOAD_SVG.text()}
                </button>
            </figcaption>
        </figure>
    }
}

fn stops(session: Session, set: &Set) -> AnyView {
    let id = set.wall.id.clone();
    let known = session.acknowledged(&id).unwrap_or_default();
    let known_already = !known.is_empty();
    let take = move |event: ev::Event| session.acknowledge(&id, &event_target_value(&event));
    let input = format!("reason-{}", set.wall.id);
    view! {
        <div class="refused" class:screen-only=known_already>
            <p>{words::STOPPED.text()}</p>
            {findings::plain(session, &set.stops)}
            <div class="field">
                <label for=input.clone()>{words::I_KNOW.text()}</label>
                <input id=input type="text" name="reason" maxlength="200" autocomplete="off" prop:value=known on:change=take />
            </div>
        </div>
    }
    .into_any()
}

fn which(session: Session, id: &str) -> AnyView {
    let here = id.to_owned();
    let options = move || {
        let walls = session.job(|job| {
            job.walls.iter().map(|wall| (wall.id.clone(), wall.name.clone())).collect::<Vec<_>>()
        });
        let every = (EVERY.to_owned(), words::EVERY_WALL.text().to_owned());
        let option = |(id, name): (String, String)| {
            let selected = id == here;
            view! { <option value=id selected=selected>{name}</option> }
        };
        std::iter::once(every).chain(walls).map(option).collect_view()
    };
    let go = |event: ev::Event| {
        let route = Route::Sheets(event_target_value(&event));
        // The address is a fragment of this page; going there cannot fail.
        let _gone = window().location().set_hash(&route.href());
    };
    view! {
        <div class="field">
            <label for="which">{words::WHICH_WALL.text()}</label>
            <select id="which" name="wall" on:change=go>{options}</select>
        </div>
    }
    .into_any()
}

fn paper(session: Session) -> Part<Paper> {
    Part::new(
        move || Some(session.sheet_options("").paper),
        move |paper| {
            session.set_paper(paper);
            Ok(())
        },
    )
}

fn orientation(session: Session) -> Part<Orientation> {
    Part::new(
        move || Some(session.sheet_options("").orientation),
        move |orientation| {
            session.set_orientation(orientation);
            Ok(())
        },
    )
}
