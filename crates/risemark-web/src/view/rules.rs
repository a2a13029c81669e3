//! The rules of the job: each at its default with its origin, or as the user set it.

use leptos::prelude::*;
use risemark::{
    job::RuleSettings,
    limits,
    limits::Limit,
    quantity::{Length, Units},
    rules::RuleValue,
    wording,
};

use super::field::{measured, number};
use crate::{
    command::Command,
    part::Part,
    session::Session,
    words::{self, Word},
};

/// One length among the rules, with how it is read and set.
type Row = (
    (Word, &'static str),
    &'static Limit,
    fn(&RuleSettings) -> Option<Length>,
    fn(&mut RuleSettings, Option<Length>),
);

const ROWS: [Row; 7] = [
    ((words::BIT, "bit"), &limits::BIT, |rules| rules.bit, |rules, value| rules.bit = value),
    (
        (words::SIDE_CLEARANCE, "side_clearance"),
        &limits::SIDE_CLEARANCE,
        |rules| rules.side_clearance,
        |rules, value| rules.side_clearance = value,
    ),
    (
        (words::TOP_CLEARANCE, "top_clearance"),
        &limits::TOP_CLEARANCE,
        |rules| rules.top_clearance,
        |rules, value| rules.top_clearance = value,
    ),
    (
        (words::TOP_REACH, "top_reach"),
        &limits::TOP_REACH,
        |rules| rules.top_reach,
        |rules, value| rules.top_reach = value,
    ),
    (
        (words::WIDE_BAY, "wide_bay"),
        &limits::WIDE_BAY,
        |rules| rules.wide_bay,
        |rules, value| rules.wide_bay = value,
    ),
    (
        (words::BRICK_REACH, "brick_reach"),
        &limits::BRICK_REACH,
        |rules| rules.brick_reach,
        |rules, value| rules.brick_reach = value,
    ),
    ((words::TIP, "tip"), &limits::TIP, |rules| rules.tip, |rules, value| rules.tip = value),
];

/// The settings of the rules.
pub fn rules(session: Session) -> AnyView {
    let settings = Part::of_job(session, |job| job.rules.clone(), Command::Rules);
    let angle = settings.part(|rules| Some(rules.angle), |rules, angle| rules.angle = angle);
    let lengths = ROWS.iter().map(|((word, name), limit, get, put)| {
        measured((word.text(), name), limit, settings.optional(*get, *put))
    });
    let step =
        settings.optional(|rules| rules.marking_step, |rules, step| rules.marking_step = step);
    let step = move || {
        let limit = match session.units.get() {
            Units::FeetInches => &limits::MARKING_STEP,
            Units::Metric => &limits::METRIC_MARKING_STEP,
        };
        measured((words::MARKING_STEP.text(), "marking_step"), limit, step.clone())
    };
    view! {
        <details class="group" id="group-rules">
            <summary><h2>{words::RULES.text()}</h2></summary>
            <div class="fields">
                {lengths.collect_view()}
                {step}
                {number((words::ANGLE.text(), "angle"), &limits::ANGLE, angle, "°")}
                {spacing(session)}
            </div>
        </details>
    }
    .into_any()
}

fn spacing(session: Session) -> impl IntoView {
    let lines = move || {
        let rules = session.rules();
        let rows = rules.listed.iter().filter(|line| matches!(line.value, RuleValue::Spacing(_)));
        rows.map(|line| {
            let speech = words::speech(rules.units);
            let value = wording::rule_value(line.value, speech);
            let origin = line.origin.words().of(speech.language);
            view! { <li>{value}<span class="quiet">" · "{origin}</span></li> }
        })
        .collect_view()
    };
    view! {
        <div class="listed">
            <h3>{words::SPACING.text()}</h3>
            <ul>{lines}</ul>
        </div>
    }
}
