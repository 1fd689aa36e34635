//! The chain: each record carries the SHA-256 of a canonical text of itself, its forerunner's hash among it.
//!
//! The canonical text is one line of JSON: the head in the order of the columns of the table `record`, then
//! `forerunner`, then `fields` in the order of the columns of the record's table; what is unknown is left out, numbers
//! are written with the fewest digits that give them back. With `hash` as last key the same line is what an export
//! holds, so that anyone can check it with a tool of their own: cut `,"hash":"…"` off and hash the rest.
//!
//! The chain finds accidents and casual changes. It cannot find that the newest records were cut off, nor an owner who
//! rewrites everything: compare the last hash with the one of a backup for that.

use std::fmt;

use sha2::{Digest, Sha256};

use crate::cell::Cell;
use crate::head::HeadRow;

/// A SHA-256.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Hash(pub [u8; 32]);

impl Hash {
    /// What stands before the first record.
    pub const NONE: Hash = Hash([0; 32]);

    /// Of a text.
    pub fn of(text: &str) -> Hash {
        Hash(Sha256::digest(text.as_bytes()).into())
    }

    /// Reads 64 hexadecimal digits.
    pub fn read(text: &str) -> Option<Hash> {
        if text.len() != 64 || !text.is_ascii() {
            return None;
        }
        let mut bytes = [0; 32];
        for (at, byte) in bytes.iter_mut().enumerate() {
            *byte = u8::from_str_radix(text.get(2 * at..2 * at + 2)?, 16).ok()?;
        }
        Some(Hash(bytes))
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        const DIGITS: [char; 16] = ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f'];
        let digits = self.0.iter().flat_map(|byte| [usize::from(byte >> 4), usize::from(byte & 15)]);
        let text: String = digits.filter_map(|digit| DIGITS.get(digit)).collect();
        out.write_str(&text)
    }
}

impl fmt::Debug for Hash {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{self}")
    }
}

/// A named field of a record, where it is known.
pub(crate) type Field<'a> = (&'a str, Option<&'a Cell>);

/// The canonical text of a record.
pub(crate) fn canonical<'a>(head: &HeadRow, fields: impl IntoIterator<Item = Field<'a>>) -> String {
    let mut line = Line(String::with_capacity(640));
    line.0.push('{');
    line.whole("seq", Some(head.seq));
    line.text("id", Some(&head.id));
    line.text("kind", Some(&head.kind));
    line.text("animal_id", head.animal_id.as_deref());
    line.text("enclosure_id", head.enclosure_id.as_deref());
    line.text("happened", head.happened.as_deref());
    line.whole("happened_from_s", head.happened_from_s);
    line.whole("happened_to_s", head.happened_to_s);
    line.text("precision", head.precision.as_deref());
    line.text("zone", head.zone.as_deref());
    line.whole("recorded_at_s", Some(head.recorded_at_s));
    line.text("recorded_by", Some(&head.recorded_by));
    line.text("corrects", head.corrects.as_deref());
    line.whole("story", Some(head.story));
    line.text("why", head.why.as_deref());
    line.whole("batch", Some(head.batch));
    line.text("fingerprint", head.fingerprint.as_deref());
    line.text("forerunner", Some(&head.forerunner.to_string()));
    line.key("fields");
    line.0.push('{');
    for (name, cell) in fields {
        if let Some(cell) = cell {
            line.cell(name, cell);
        }
    }
    line.0.push_str("}}");
    line.0
}

struct Line(String);

impl Line {
    fn key(&mut self, key: &str) {
        if !self.0.ends_with('{') {
            self.0.push(',');
        }
        self.quoted(key);
        self.0.push(':');
    }

    fn text(&mut self, key: &str, text: Option<&str>) {
        if let Some(text) = text {
            self.key(key);
            self.quoted(text);
        }
    }

    fn whole(&mut self, key: &str, number: Option<i64>) {
        if let Some(number) = number {
            self.key(key);
            self.0.push_str(&number.to_string());
        }
    }

    fn cell(&mut self, key: &str, cell: &Cell) {
        self.key(key);
        match cell {
            Cell::Text(text) => self.quoted(text),
            Cell::Real(number) => self.0.push_str(&number.to_string()),
            Cell::Whole(number) => self.0.push_str(&number.to_string()),
            Cell::Flag(flag) => self.0.push_str(if *flag { "true" } else { "false" }),
        }
    }

    fn quoted(&mut self, text: &str) {
        self.0.push('"');
        let plain = |byte: u8| byte != b'"' && byte != b'\\' && b' ' <= byte;
        if text.bytes().all(plain) {
            self.0.push_str(text);
        } else {
            text.chars().for_each(|letter| self.letter(letter));
        }
        self.0.push('"');
    }

    fn letter(&mut self, letter: char) {
        match letter {
            '"' => self.0.push_str("\\\""),
            '\\' => self.0.push_str("\\\\"),
            '\n' => self.0.push_str("\\n"),
            '\r' => self.0.push_str("\\r"),
            '\t' => self.0.push_str("\\t"),
            control if control < ' ' => self.0.push_str(&format!("\\u{:04x}", u32::from(control))),
            letter => self.0.push(letter),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hash_is_that_of_the_standard() {
        // FIPS 180-4, example of the one-block message «abc».
        let hash = Hash::of("abc");
        assert_eq!(hash.to_string(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(Hash::read(&hash.to_string()), Some(hash));
        assert_eq!(Hash::read("ba78"), None);
    }

    #[test]
    fn any_text_is_written_as_json_reads_it() {
        let text = "a \"b\" \\ \n\r\t\u{1} é\u{2028}/";
        let mut line = Line("{".into());
        line.text("t", Some(text));
        line.0.push('}');
        let back: serde_json::Value = serde_json::from_str(&line.0).unwrap();
        assert_eq!(back["t"], text);
    }
}
