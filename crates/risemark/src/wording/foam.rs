//! Volumes, flows and times in the words of the job's units, and what is bought and done.

use crate::{
    foam::{Consumables, Item, ItemKind, TaskKind},
    language::{Language, Speech, Text, text},
    quantity::{
        Time, Units, Volume, VolumeRate, round_to, to_board_feet, to_cubic_inches_per_second,
        to_liters, to_liters_per_second, to_seconds,
    },
    say,
};

/// A volume of foam: `32.6 board ft` or `77 L`.
pub fn volume(volume: Volume, speech: Speech) -> String {
    match speech.units {
        Units::FeetInches => board_feet(volume, speech.language),
        Units::Metric => format!("{} L", tenths(to_liters(volume))),
    }
}

/// A volume in board feet, by which kits are named in every country.
pub fn board_feet(volume: Volume, language: Language) -> String {
    let board_feet = tenths(to_board_feet(volume));
    say!(language, "{board_feet} board ft", "{board_feet} pies tabla")
}

/// A flow: `50.8 cu in/s` or `0.83 L/s`.
pub fn flow(flow: VolumeRate, speech: Speech) -> String {
    match speech.units {
        Units::FeetInches => {
            let flow = tenths(to_cubic_inches_per_second(flow));
            say!(speech.language, "{flow} cu in/s", "{flow} pulg cúb/s")
        }
        Units::Metric => format!("{} L/s", round_to(to_liters_per_second(flow), 1e3)),
    }
}

/// A number of seconds: `34 s`.
pub fn seconds(time: Time) -> String {
    format!("{} s", to_seconds(time))
}

/// A temperature given in degrees Celsius, in the units of the job.
pub fn temperature(celsius: f64, units: Units) -> String {
    match units {
        Units::FeetInches => format!("{} °F", tenths(celsius * 1.8 + 32.0)),
        Units::Metric => format!("{} °C", tenths(celsius)),
    }
}

/// What is bought.
pub fn item(kind: ItemKind, language: Language) -> String {
    let words = match kind {
        ItemKind::Kit { nominal } => {
            let size = board_feet(nominal, language);
            return say!(language, "foam kit, {size}", "kit de espuma, {size}");
        }
        ItemKind::Nozzle => text("nozzle", "boquilla"),
        ItemKind::Tube => {
            text("tube, 12 in of 1/4 in inside", "tubo, 12 pulg de 1/4 pulg interior")
        }
        ItemKind::Jelly => text("jar of petroleum jelly", "frasco de vaselina"),
        ItemKind::Plug => text("plug", "tapón"),
        ItemKind::Compound => text("tub of patching compound", "cubeta de pasta para resanar"),
        ItemKind::Mask => text("respirator mask", "mascarilla respiratoria"),
        ItemKind::Cartridges => text("pair of cartridges", "par de cartuchos"),
        // unsure: "lona protectora" for a drop cloth.
        ItemKind::DropCloth => text("drop cloth", "lona protectora"),
        ItemKind::Bit => text("drill bit", "broca"),
    };
    words.of(language).to_owned()
}

/// What is bought as a list for a spreadsheet, a thing a line; what has no price has an empty field.
pub fn shopping_list(needed: &Consumables, language: Language) -> String {
    let head = text("item,quantity,price,cost", "artículo,cantidad,precio,costo");
    let money = |amount: Option<f64>| amount.map_or(String::new(), |amount| format!("{amount:.2}"));
    let line = |item: &Item| {
        let name = field(&self::item(item.kind, language));
        format!("{name},{},{},{}\n", item.quantity, money(item.price), money(item.cost()))
    };
    let lines: String = needed.items.iter().map(line).collect();
    format!("{}\n{lines}", head.of(language))
}

/// A field as RFC 4180 has it: in quotes where a comma or a quote stands in it.
fn field(text: &str) -> String {
    if text.contains([',', '"']) {
        return format!("\"{}\"", text.replace('"', "\"\""));
    }
    text.to_owned()
}

/// What people do.
pub fn task(kind: TaskKind) -> Text {
    match kind {
        TaskKind::Marking => text("marking", "marcar"),
        TaskKind::Drilling => text("drilling", "taladrar"),
        TaskKind::Shooting => text("shooting", "inyectar"),
        TaskKind::Waiting => text("walking and waiting", "caminar y esperar"),
        // unsure: "resanar" for closing holes.
        TaskKind::Patching => text("closing holes", "resanar agujeros"),
        TaskKind::Cleaning => text("setting up and cleaning", "preparar y limpiar"),
    }
}

/// Marks of holes in a row: `3, 7 to 9`.
pub(super) fn marks(marks: &[usize], language: Language) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut at = 0;
    while let Some(&first) = marks.get(at) {
        let in_turn = |(idx, mark): &(usize, &usize)| **mark == first + idx;
        let run = marks[at..].iter().enumerate().take_while(in_turn).count();
        let last = first + run - 1;
        parts.push(match run {
            1 => first.to_string(),
            2 => format!("{first}, {last}"),
            _ => say!(language, "{first} to {last}", "{first} a {last}"),
        });
        at += run;
    }
    parts.join(", ")
}

fn tenths(value: f64) -> f64 {
    round_to(value, 10.0)
}
