//! The files of the project.

use std::path::{Path, PathBuf};

/// The root of the project.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().expect("the root")
}

/// Every file under a folder of the project whose name ends so, with its text; what is built is left out.
pub fn files(under: &str, ends: &[&str]) -> Vec<(String, String)> {
    let root = root();
    let mut found = Vec::new();
    let mut folders = vec![root.join(under)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display())) {
            let path = entry.expect("an entry").path();
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            if path.is_dir() {
                if name != "target" && !name.starts_with('.') {
                    folders.push(path);
                }
            } else if ends.iter().any(|end| name.ends_with(end)) {
                let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
                let shown = path.strip_prefix(&root).unwrap_or(&path).to_string_lossy().replace('\\', "/");
                found.push((shown, text));
            }
        }
    }
    found.sort();
    found
}
