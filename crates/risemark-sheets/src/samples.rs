//! Walls that the tests of this crate try.

use risemark::{file, job::Job};

/// A job of one wall, as a job file.
pub(crate) fn job(wall: &str, units: &str) -> Job {
    let text = format!(
        r#"{{"format":"risemark-job","version":1,"job":{{"name":"Old post office","place":"Larch Lane",
        "units":"{units}","walls":[{{"id":"wall","name":"North wall","room":"Workshop",{wall}}}]}}}}"#
    );
    file::read(&text).unwrap_or_else(|found| panic!("{text}: {found:?}"))
}

pub(crate) fn level(width: f64, height: f64, rest: &str) -> String {
    format!(r#""width":{width},"top":{{"shape":"level","height":{height}}}{rest}"#)
}

/// Walls of many kinds: plain, tiny, long, high, raked, from either end, crowded with openings.
pub(crate) fn walls() -> Vec<String> {
    let windows = r#","openings":[{"kind":"window","name":"Left window","left":900,"width":1200,"height":1100,"sill":900},
        {"kind":"door","left":2600,"width":900,"height":2050},
        {"kind":"window","left":4100,"width":700,"height":500,"sill":1500,"header":{"kind":"shallow"}}]"#;
    let close = r#","studs":{"layout":{"kind":"regular","spacing":203.2}}"#;
    let things = r#","depth":60,"things":[{"kind":"flue","at":{"shape":"box","left":1500,"up":0,"width":200,"height":2400}},
        {"kind":"cable","at":{"shape":"run","points":[[300,300],[3000,1800]],"diameter":12}}],
        "zones":[{"kind":"baseboard","left":0,"up":0,"width":3900,"height":150}],"bays":[{"at":3300,"skip":"already-insulated"}]"#;
    vec![
        level(4876.8, 2467.0, ""),
        level(300.0, 2400.0, ""),
        level(900.0, 600.0, r#","datum":"right""#),
        level(5600.0, 2500.0, windows),
        level(5600.0, 2500.0, &format!(r#"{windows},"datum":"right""#)),
        level(4000.0, 2500.0, things),
        level(4876.8, 2438.4, close),
        level(12_000.0, 2500.0, ""),
        level(2400.0, 6000.0, ""),
        r#""width":4400,"top":{"shape":"gable","left":1000,"ridge_at":2200,"ridge":2700,"right":1000}"#.to_owned(),
        level(3000.0, 2400.0, r#","construction":{"kind":"brick-air-space"},"finish":{"material":"brick"}"#),
        r#""width":3000,"top":{"shape":"level","height":2400},"bottom":{"shape":"raked","left":0,"right":-900},
            "plates":{"floor_covering":20,"ceiling_drop":30}"#.to_owned(),
        r#""width":4400,"top":{"shape":"raked","left":3600,"right":900},"datum":"right""#.to_owned(),
    ]
}
