//! Takes out of the published schema what only people read, so that the app need not carry it.

use std::{env, error::Error, fs, path::Path};

use serde_json::Value;

const SCHEMA: &str = "../../examples/job.schema.json";

/// What tells people about a part of the file, and nobody compares with.
const FOR_PEOPLE: [&str; 4] = ["$schema", "default", "description", "x-origin"];

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed={SCHEMA}");
    let mut schema = serde_json::from_str(&fs::read_to_string(SCHEMA)?)?;
    strip(&mut schema);
    let out = env::var_os("OUT_DIR").ok_or("cargo names no folder for what is built")?;
    fs::write(Path::new(&out).join("job.schema.json"), serde_json::to_string(&schema)?)?;
    Ok(())
}

fn strip(schema: &mut Value) {
    match schema {
        Value::Object(fields) => {
            // Fields of the file that bear such a name are objects, and stay.
            fields.retain(|name, value| value.is_object() || !FOR_PEOPLE.contains(&name.as_str()));
            fields.values_mut().for_each(strip);
        }
        Value::Array(entries) => entries.iter_mut().for_each(strip),
        _ => {}
    }
}
