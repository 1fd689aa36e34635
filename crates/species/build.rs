//! Lists the data files, so that adding a species is adding a file.

use std::fmt::Write as _;
use std::path::Path;
use std::{env, error::Error, fs};

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=data");
    let data = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("data");
    let mut names = Vec::new();
    for entry in fs::read_dir(&data)? {
        names.extend(entry?.file_name().into_string().ok().filter(|name| name.ends_with(".toml")));
    }
    names.sort();
    let mut list = String::from("&[\n");
    for name in &names {
        writeln!(list, "    ({name:?}, include_str!({:?})),", data.join(name))?;
    }
    list.push(']');
    fs::write(Path::new(&env::var("OUT_DIR")?).join("files.rs"), list)?;
    Ok(())
}
