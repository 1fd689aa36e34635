//! From bytes to text: which encoding a file is in.

use chardetng::{EncodingDetector, Iso2022JpDetection, Utf8Detection};
use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use super::answers::Answers;
use super::understood::{About, Question};
use crate::fault::Fault;

/// Files larger than this are not read.
pub const MOST_BYTES: usize = 50 * 1024 * 1024;

/// A file as text.
pub(super) struct Decoded {
    /// The text, without a byte order mark, each line ended by `\n` alone.
    pub text: String,
    /// The name of its encoding.
    pub encoding: &'static str,
    /// Asked when letters may be read in two ways.
    pub question: Option<Question>,
}

/// Reads the bytes of the file called `name` as text.
pub(super) fn decode(name: &str, bytes: &[u8], answers: &Answers) -> Result<Decoded, Fault> {
    if MOST_BYTES < bytes.len() {
        let what = format!(
            "the file holds {} MB, more than the {} MB that are read",
            bytes.len() / 1_048_576,
            MOST_BYTES / 1_048_576
        );
        return Err(Fault::new(what, name, "divide it into several files"));
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0]) {
        let mend = "open it, and save the sheet with the table as CSV";
        return Err(Fault::new("the file is a workbook or an archive, not a table of text", name, mend));
    }
    let (encoding, question) = match &answers.encoding {
        Some(told) => match Encoding::for_label(told.as_bytes()) {
            Some(encoding) => (encoding, None),
            None => {
                let mend = "name one such as utf-8, windows-1252 or utf-16le, or leave it out";
                return Err(Fault::new(format!("`{told}` is no encoding that is known"), name, mend));
            }
        },
        None => guess(bytes),
    };
    let (text, _, broken) = encoding.decode(bytes);
    if broken && answers.encoding.is_some() {
        let what = format!("the file is not {}", encoding.name());
        return Err(Fault::new(what, name, "name another encoding, or leave it out"));
    }
    let strange = |c: char| {
        (c.is_control() && !matches!(c, '\n' | '\r' | '\t' | '\u{b}' | '\u{c}' | '\u{85}')) || c == '\u{fffd}'
    };
    if let Some(at) = text.find(strange) {
        let before = text.get(..at).unwrap_or_default();
        let place = format!("{name}, line {}", before.matches('\n').count() + 1);
        return Err(Fault::new("the file is not a table of text", place, "save the table as CSV in UTF-8"));
    }
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    if text.trim().is_empty() {
        return Err(Fault::new("the file is empty", name, "choose a file with a header and at least one row"));
    }
    Ok(Decoded { text, encoding: encoding.name(), question })
}

fn guess(bytes: &[u8]) -> (&'static Encoding, Option<Question>) {
    if let Some((encoding, _)) = Encoding::for_bom(bytes) {
        return (encoding, None);
    }
    if let Some(encoding) = two_bytes_each(bytes) {
        return (encoding, None);
    }
    if std::str::from_utf8(bytes).is_ok() {
        return (UTF_8, None);
    }
    let mut detector = EncodingDetector::new(Iso2022JpDetection::Deny);
    detector.feed(bytes, true);
    let likely = detector.guess(None, Utf8Detection::Deny);
    let question = doubtful(bytes, likely);
    (likely, question)
}

/// UTF-16 without a mark: a table is mostly digits, separators and plain letters, so every second byte is nought.
fn two_bytes_each(bytes: &[u8]) -> Option<&'static Encoding> {
    let pairs = bytes.chunks_exact(2);
    if !pairs.remainder().is_empty() {
        return None;
    }
    let (mut all, mut low, mut high) = (0usize, 0usize, 0usize);
    for pair in pairs {
        all += 1;
        low += usize::from(pair.first() == Some(&0));
        high += usize::from(pair.last() == Some(&0));
    }
    let most = |zeros: usize| all * 7 < zeros * 10;
    if most(high) && low * 20 < all {
        Some(UTF_16LE)
    } else if most(low) && high * 20 < all {
        Some(UTF_16BE)
    } else {
        None
    }
}

/// Western European text is the commonest by far among those with one byte for each letter. Where the detector finds
/// another, and the letters come out differently, the keeper is shown both.
fn doubtful(bytes: &[u8], likely: &'static Encoding) -> Option<Question> {
    if likely == WINDOWS_1252 {
        return None;
    }
    let line = bytes.split(|byte| matches!(byte, b'\n' | b'\r')).find(|line| !line.is_ascii())?;
    let (one, _, broken) = likely.decode(line);
    let (other, _, _) = WINDOWS_1252.decode(line);
    (broken || one != other).then(|| Question {
        about: About::Encoding,
        choices: vec![likely.name().to_owned(), WINDOWS_1252.name().to_owned()],
        because: "letters beyond the plain alphabet come out differently".to_owned(),
        example: format!(
            "`{}` ({}) or `{}` ({})",
            super::understood::shortened(one.trim()),
            likely.name(),
            super::understood::shortened(other.trim()),
            WINDOWS_1252.name()
        ),
    })
}
