//! What to buy, what it costs, and how long people work.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{
    foam::{Choice, Consumables, ShotTotals, consumables},
    job::{FoamSettings, Kit, Prices, Work},
    limits::{self, Bounds},
    wording::foam as said,
};

use super::{Figure, figures, plots, settings};
use crate::{
    files,
    part::Part,
    poured::Poured,
    session::Session,
    view::field::{measured_or, number, number_or, optional_text, refused, temperature, whole},
    words,
};

const PRICES: &[Figure<Prices>] = &[
    ((words::NOZZLE, "nozzle"), &limits::PRICE, "", |p| p.nozzle, |p, v| p.nozzle = v),
    ((words::TUBE, "tube"), &limits::PRICE, "", |p| p.tube, |p, v| p.tube = v),
    ((words::JELLY, "jelly"), &limits::PRICE, "", |p| p.jelly, |p, v| p.jelly = v),
    ((words::PLUG, "plug"), &limits::PRICE, "", |p| p.plug, |p, v| p.plug = v),
    ((words::COMPOUND, "compound"), &limits::PRICE, "", |p| p.compound, |p, v| p.compound = v),
    ((words::MASK, "mask"), &limits::PRICE, "", |p| p.mask, |p, v| p.mask = v),
    (
        (words::CARTRIDGES, "cartridges"),
        &limits::PRICE,
        "",
        |p| p.cartridges,
        |p, v| p.cartridges = v,
    ),
    (
        (words::DROP_CLOTH, "drop_cloth"),
        &limits::PRICE,
        "",
        |p| p.drop_cloth,
        |p, v| p.drop_cloth = v,
    ),
    ((words::DRILL_BIT, "bit"), &limits::PRICE, "", |p| p.bit, |p, v| p.bit = v),
    ((words::HOUR, "hour"), &limits::PRICE, "", |p| p.hour, |p, v| p.hour = v),
    (
        (words::RETURN_TRIP, "return_trip"),
        &limits::PRICE,
        "",
        |p| p.return_trip,
        |p, v| p.return_trip = v,
    ),
];

const FIGURES: &[Figure<FoamSettings>] = &[
    ((words::USABLE, "usable"), &limits::USABLE, " %", |f| f.usable, |f, v| f.usable = v),
    (
        (words::USABLE_SPREAD, "usable_spread"),
        &limits::USABLE_SPREAD,
        " %",
        |f| f.usable_spread,
        |f, v| f.usable_spread = v,
    ),
    ((words::WASTE, "waste"), &limits::WASTE, " %", |f| f.waste, |f, v| f.waste = v),
    (
        (words::LONGEST_SHOT, "longest_shot"),
        &limits::LONGEST_SHOT,
        " s",
        |f| f.longest_shot,
        |f, v| f.longest_shot = v,
    ),
    (
        (words::SHORTEST_SHOT, "shortest_shot"),
        &limits::SHORTEST_SHOT,
        " s",
        |f| f.shortest_shot,
        |f, v| f.shortest_shot = v,
    ),
    ((words::PAUSE, "pause"), &limits::PAUSE, " s", |f| f.pause, |f, v| f.pause = v),
];

const TASKS: &[Figure<Work>] = &[
    ((words::MARKING_TIME, "marking"), &limits::MARKING, " s", |w| w.marking, |w, v| w.marking = v),
    (
        (words::PATCHING_TIME, "patching"),
        &limits::PATCHING,
        " s",
        |w| w.patching,
        |w, v| w.patching = v,
    ),
];

/// Where nobody has counted the kits, none is assumed to be there.
static AT_HAND: Bounds = Bounds { default: f64::NEG_INFINITY, ..limits::KITS_AT_HAND };

/// Kits with their chances, consumables, hours, prices.
pub fn buying(session: Session, poured: Memo<Arc<Poured>>) -> AnyView {
    let settings = settings(session);
    let lift = settings.optional(|foam| foam.lift_height, |foam, lift| foam.lift_height = lift);
    let most = settings.optional(|foam| foam.shot_volume, |foam, most| foam.shot_volume = most);
    let no_limit = words::NO_LIMIT.text();
    let degrees =
        settings.optional(|foam| foam.temperature, |foam, value| foam.temperature = value);
    let label = (words::TEMPERATURE.text(), "temperature");
    let degrees =
        temperature(label, [&limits::COMPONENTS, &limits::COMPONENTS_FAHRENHEIT], degrees);
    let prices =
        settings.part(|foam| Some(foam.prices.clone()), |foam, prices| foam.prices = prices);
    let currency =
        prices.part(|prices| Some(prices.currency.clone()), |prices, sign| prices.currency = sign);
    view! {
        <section id="kits" aria-labelledby="kits-title">
            <h2 id="kits-title">{words::KITS.text()}</h2>
            {move || poured.with(|poured| kits(session, poured))}
            <details class="group" id="group-sizes">
                <summary><h3>{words::KIT_SIZES.text()}</h3></summary>
                {sizes(session, &settings)}
            </details>
            <details class="group" id="group-kits">
                <summary><h3>{words::YIELD_AND_SHOTS.text()}</h3></summary>
                <div class="fields">
                    {degrees} {figures(&settings, FIGURES)}
                    {measured_or((words::LIFT_HEIGHT.text(), "lift_height"), &limits::LIFT_HEIGHT, lift, no_limit)}
                    {number_or((words::SHOT_VOLUME.text(), "shot_volume"), &limits::SHOT_VOLUME, most, "", no_limit)}
                </div>
            </details>
        </section>
        <section id="list" aria-labelledby="list-title">
            <h2 id="list-title">{words::SHOPPING_LIST.text()}</h2>
            {move || poured.with(|poured| list(session, poured))}
            <details class="group" id="group-work">
                <summary><h3>{words::WORK.text()}</h3></summary>
                <div class="fields">{work(&settings)}</div>
            </details>
            <details class="group" id="group-prices">
                <summary><h3>{words::YOUR_PRICES.text()}</h3></summary>
                <div class="fields">
                    {optional_text((words::CURRENCY.text(), "currency"), currency)}
                    {figures(&prices, PRICES)}
                </div>
            </details>
        </section>
    }
    .into_any()
}

/// How people work, and what is bought to spare.
fn work(settings: &Part<FoamSettings>) -> AnyView {
    let work = settings.part(|foam| Some(foam.work), |foam, work| foam.work = work);
    let people = work.optional(|work| work.people, |work, people| work.people = people);
    let drilling = work.optional(|work| work.drilling, |work, time| work.drilling = time);
    let cleaning = work.optional(|work| work.cleaning, |work, time| work.cleaning = time);
    let spare = settings.optional(|foam| foam.spare_nozzles, |foam, n| foam.spare_nozzles = n);
    view! {
        {whole((words::PEOPLE.text(), "people"), &limits::PEOPLE, people)}
        {figures(&work, TASKS)}
        {number_or((words::DRILLING_TIME.text(), "drilling"), &limits::DRILLING, drilling, " s", words::BY_MATERIAL.text())}
        {number((words::CLEANING_TIME.text(), "cleaning"), &limits::CLEANING, cleaning, " min")}
        {number((words::SPARE_NOZZLES.text(), "spare_nozzles"), &limits::SPARE, spare, " %")}
    }
    .into_any()
}

/// The sizes of kits that can be bought: the usual ones until the user names others.
fn sizes(session: Session, settings: &Part<FoamSettings>) -> AnyView {
    let list = settings.part(|foam| Some(kits_of(foam)), |foam, kits| foam.kits = kits);
    let (counted, adding) = (list.clone(), list.clone());
    let n_kits = Memo::new(move |_| counted.get().map_or(0, |kits| kits.len()));
    let message = RwSignal::new(String::new());
    let add = move |_| {
        let mut kits = untrack(|| adding.get()).unwrap_or_default();
        let largest = kits.iter().map(|kit| kit.board_feet).fold(0.0, f64::max);
        let board_feet = (2.0 * largest).clamp(limits::KIT_SIZE.min, limits::KIT_SIZE.max);
        kits.push(Kit { board_feet, price: None, at_hand: None });
        message.set(refused(adding.set(kits), session).err().unwrap_or_default());
    };
    view! {
        <ol class="entries">
            <For each=move || 0..n_kits.get() key=|idx| *idx let:idx>
                {size(session, &list, idx, n_kits)}
            </For>
        </ol>
        <button type="button" class="add" id="add-kit" on:click=add>{words::ADD_KIT.text()}</button>
        <p class="message" role="alert">{message}</p>
    }
    .into_any()
}

fn kits_of(foam: &FoamSettings) -> Vec<Kit> {
    let usual = |board_feet| Kit { board_feet, price: None, at_hand: None };
    if foam.kits.is_empty() { limits::KIT_SIZES.map(usual).to_vec() } else { foam.kits.clone() }
}

fn size(session: Session, list: &Part<Vec<Kit>>, idx: usize, n_kits: Memo<usize>) -> AnyView {
    let kit = list.entry(idx);
    let titled = kit.clone();
    let title = move || titled.get().map(|kit| words::kit_of(kit.board_feet));
    let board_feet = kit.part(
        |kit| Some(Some(kit.board_feet)),
        |kit, value| {
            if let Some(value) = value {
                kit.board_feet = value;
            }
        },
    );
    let price = kit.optional(|kit| kit.price, |kit, price| kit.price = price);
    let at_hand = kit.optional(|kit| kit.at_hand, |kit, n_kits| kit.at_hand = n_kits);
    let removing = list.clone();
    let message = RwSignal::new(String::new());
    let remove = move |_| {
        let Some(mut kits) = untrack(|| removing.get()) else { return };
        if idx < kits.len() {
            kits.remove(idx);
            message.set(refused(removing.set(kits), session).err().unwrap_or_default());
        }
    };
    view! {
        <li class="kit">
            <h4>{title}</h4>
            <div class="fields">
                {number((words::BOARD_FEET.text(), "board_feet"), &limits::KIT_SIZE, board_feet, "")}
                {number((words::PRICE_OF_KIT.text(), "price"), &limits::PRICE, price, "")}
                {whole((words::AT_HAND.text(), "at_hand"), &AT_HAND, at_hand)}
            </div>
            // Without any size the usual ones would come back.
            <button type="button" class="remove" aria-label=words::remove_kit(idx + 1)
                disabled=move || n_kits.get() < 2 on:click=remove>
                {words::REMOVE.text()}
            </button>
            <p class="message" role="alert">{message}</p>
        </li>
    }
    .into_any()
}

fn kits(session: Session, poured: &Poured) -> AnyView {
    let speech = words::speech(session.units.get());
    let pour = &poured.pour.product;
    let buying = &pour.buying;
    let sign = session.job(|job| job.foam.prices.currency.clone()).unwrap_or_default();
    let row = |choice: &Choice| {
        let kits = choice
            .kits
            .iter()
            .map(|(kit, n)| format!("{n} × {}", said::board_feet(kit.nominal, speech.language)));
        let kits = kits.collect::<Vec<_>>().join(" + ");
        let cost = choice.cost.map(|cost| format!("{sign}{cost:.2}")).unwrap_or_default();
        view! {
            <tr>
                <th scope="row">{format!("{:.0} %", choice.asked * 100.0)}</th>
                <td>{kits}</td>
                <td>{said::volume(choice.left, speech)}</td>
                <td>{cost}</td>
            </tr>
        }
    };
    let (width, height) = plots::SIZE;
    let advice = buying.advice.as_ref().map(|advice| {
        view! { <p class="assumption" id="kit-advice">{words::kit_advice(advice, &sign)}</p> }
    });
    let size = said::board_feet(buying.curve_size.nominal, speech.language);
    view! {
        <table id="kit-choices">
            <thead>
                <tr>
                    <th scope="col">{words::CHANCE.text()}</th>
                    <th scope="col">{words::KITS.text()}</th>
                    <th scope="col">{words::LEFT_OVER.text()}</th>
                    <th scope="col">{words::COST.text()}</th>
                </tr>
            </thead>
            <tbody>{buying.choices.iter().map(row).collect_view()}</tbody>
        </table>
        <p class="quiet">{words::chance_by_kits(&size)}</p>
        <svg class="plot" role="img" aria-label=words::CHANCE_PLOT.text() width=width height=height inner_html=plots::chances(buying)></svg>
        {advice}
    }
    .into_any()
}

fn bought(session: Session, poured: &Poured) -> Consumables {
    let pour = &poured.pour.product;
    let shooting = session.order.plan.get().map_or_else(
        || ShotTotals::unplanned(pour),
        |order| ShotTotals { nozzles: order.n_nozzles, time: order.end },
    );
    session.job(|job| consumables(job, &poured.plan, pour, &shooting))
}

fn list(session: Session, poured: &Poured) -> AnyView {
    let language = words::language();
    let bought = bought(session, poured);
    let sign = session.job(|job| job.foam.prices.currency.clone()).unwrap_or_default();
    let costs = words::costs(&bought, &sign);
    let money = move |value: Option<f64>| {
        value.map(|value| format!("{sign}{value:.2}")).unwrap_or_else(|| "—".to_owned())
    };
    let rows: Vec<(String, usize, Option<f64>)> = bought
        .items
        .iter()
        .map(|item| (said::item(item.kind, language), item.quantity, item.cost()))
        .collect();
    let csv = said::shopping_list(&bought, language);
    let save = move |_| drop(files::save("shopping-list.csv", "text/csv", &csv));
    let shown = rows.into_iter().map(|(name, quantity, cost)| {
        view! { <tr><th scope="row">{name}</th><td>{quantity}</td><td>{money.clone()(cost)}</td></tr> }
    }).collect_view();
    let tasks = bought
        .tasks
        .iter()
        .map(|task| {
            let name = said::task(task.kind).of(language);
            view! { <tr><th scope="row">{name}</th><td>{words::hours(task.time)}</td></tr> }
        })
        .collect_view();
    view! {
        <table id="shopping">
            <thead>
                <tr>
                    <th scope="col">{words::ITEM.text()}</th>
                    <th scope="col">{words::QUANTITY.text()}</th>
                    <th scope="col">{words::COST.text()}</th>
                </tr>
            </thead>
            <tbody>{shown}</tbody>
        </table>
        <p class="quiet" id="costs">{costs}</p>
        <button type="button" id="save-list" on:click=save>{words::SAVE_LIST.text()}</button>
        <h3>{words::hours_of(bought.people)}</h3>
        <table id="hours"><tbody>{tasks}</tbody></table>
    }
    .into_any()
}
