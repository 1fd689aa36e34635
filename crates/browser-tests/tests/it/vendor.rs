//! What is kept here of others is as it was published.

use std::path::Path;

use sha2::{Digest, Sha256};

#[test]
fn every_file_of_others_is_named_with_its_licence_and_unchanged() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets");
    let text = std::fs::read_to_string(folder.join("VENDOR.toml")).unwrap();
    let list: toml::Table = text.parse().unwrap();
    let files = list["file"].as_array().unwrap();
    for file in files {
        let get = |key: &str| file[key].as_str().unwrap();
        let hash = Sha256::digest(std::fs::read(folder.join(get("path"))).unwrap());
        let hex: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hex, get("sha256"), "{}", get("path"));
        assert!(folder.join(get("licence_file")).exists(), "the licence of {} lies beside it", get("name"));
    }
    let named: Vec<&str> = files
        .iter()
        .flat_map(|file| [file["path"].as_str().unwrap(), file["licence_file"].as_str().unwrap()])
        .collect();
    for entry in std::fs::read_dir(&folder).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(name == "VENDOR.toml" || named.contains(&name.as_str()), "{name} is not named in VENDOR.toml");
    }
}
