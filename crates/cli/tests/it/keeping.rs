//! Keeping: verifying, backing up, and a second process beside the page.

use std::io::{BufRead, BufReader};
use std::process::Stdio;

use crate::home::{Home, program};

#[test]
fn a_backup_is_proved_and_never_overwrites() {
    let home = Home::with_fern();
    let to = home.path("copy.db").display().to_string();
    let said = home.does(&format!("backup {to}"));
    assert_eq!(said.lines().next(), Some(format!("3 records copied to {to} and proved.").as_str()));
    assert_eq!(said.lines().nth(1), home.does("verify").lines().nth(1));
    assert!(home.ends(2, &format!("backup {to}")).contains("exists already"));
    assert!(home.does("backup").contains("backups"), "without a name it is dated and put beside the records");
}

#[test]
fn damage_is_found() {
    let home = Home::with_fern();
    home.does("log weight Fern 523");
    assert!(home.does("verify").starts_with("Sound: 4 records and 0 removals are as they were written.\n"));
    let file = home.records().join("records.db");
    let mut bytes = std::fs::read(&file).expect("the records");
    let needle = b"corn_snake";
    let mut found = 0;
    for at in 0..bytes.len() - needle.len() {
        if &bytes[at..at + needle.len()] == needle {
            bytes[at..at + 4].copy_from_slice(b"horn");
            found += 1;
        }
    }
    assert!(0 < found, "the species stands in the file");
    std::fs::write(&file, bytes).expect("the file is changed");
    let err = home.ends(6, "verify");
    assert!(err.contains("it is not as it was written") && err.contains("mend: keep the file as it is"), "{err}");
}

#[test]
fn while_the_page_is_served_others_read_and_wait_with_writing() {
    let home = Home::with_fern();
    let mut server = program()
        .arg("--folder")
        .arg(home.records())
        .args(["serve", "--port", "0"])
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the page is served");
    let mut lines = BufReader::new(server.stdout.take().expect("its output")).lines();
    let mut next = || lines.next().expect("a line").expect("text");
    assert_eq!(next(), format!("The household in {}", home.records().display()));
    let address = next();
    assert!(address.starts_with("is at http://127.0.0.1:"), "{address}");
    let busy = home.run("log weight Fern 523");
    let walk = home.run("rounds");
    let shown = home.run("show Fern");
    server.kill().expect("the server ends");
    server.wait().expect("it has ended");
    assert_eq!(busy.code, 5, "{}", busy.err);
    assert!(busy.err.starts_with("busy: another Warmside is writing to "), "{}", busy.err);
    assert_eq!((walk.code, shown.code), (0, 0), "{}{}", walk.err, shown.err);
    home.does("log weight Fern 523");
}

#[test]
fn a_port_that_is_taken_is_told() {
    let home = Home::with_fern();
    let taken = std::net::TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = taken.local_addr().expect("its number").port();
    let err = home.ends(5, &format!("serve --port {port}"));
    assert!(err.starts_with(&format!("busy: the port {port} cannot be taken")), "{err}");
}
