//! Lines laid out to a width: a label at the left, its text beside it, wrapped under itself.

use crate::wording::{STAY, kept};

/// Lines that are being laid out.
#[derive(Clone, Debug)]
pub struct Sheet {
    width: usize,
    text: String,
}

impl Sheet {
    /// An empty sheet of a width in columns.
    pub fn new(width: usize) -> Sheet {
        Sheet { width: width.max(20), text: String::new() }
    }

    /// An empty line, unless one stands there already or nothing does.
    pub fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// A line or several, indented.
    pub fn say(&mut self, indent: usize, text: &str) {
        self.wrap(&" ".repeat(indent), indent, text);
    }

    /// A line whose further lines stand further in.
    pub fn item(&mut self, indent: usize, text: &str) {
        self.wrap(&" ".repeat(indent), indent + 2, text);
    }

    /// A label in its column and a text beside it.
    pub fn row(&mut self, indent: usize, label: &str, column: usize, text: &str) {
        let wide = label.chars().count();
        if column <= wide {
            // A label too long for its column has the line for itself.
            self.say(indent, label);
            return self.say(indent + column, text);
        }
        let start = format!("{}{label}{}", " ".repeat(indent), " ".repeat(column - wide));
        self.wrap(&start, indent + column, text);
    }

    fn wrap(&mut self, start: &str, hang: usize, text: &str) {
        let text = &kept(text);
        let mut line = start.to_owned();
        let mut used = start.chars().count();
        let mut is_empty = true;
        for word in text.split([' ', '\n']).filter(|word| !word.is_empty()) {
            let wide = word.chars().count();
            if !is_empty && self.width < used + 1 + wide {
                self.put(&line);
                line = " ".repeat(hang);
                used = hang;
                is_empty = true;
            }
            if !is_empty {
                line.push(' ');
                used += 1;
            }
            line.push_str(word);
            used += wide;
            is_empty = false;
        }
        self.put(&line);
    }

    fn put(&mut self, line: &str) {
        // Until here such a space kept a number and its unit together.
        self.text.push_str(line.replace(STAY, " ").trim_end());
        self.text.push('\n');
    }

    /// The text, each line with its end.
    pub fn finish(self) -> String {
        self.text
    }
}

/// The column that holds the longest of these labels, with a gap after it.
pub fn column<'a>(labels: impl IntoIterator<Item = &'a str>) -> usize {
    const GAP: usize = 2;
    const WIDEST: usize = 34;
    let longest = labels.into_iter().map(|label| label.chars().count()).max().unwrap_or(0);
    longest.min(WIDEST) + GAP
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_wrapped_under_itself_and_a_unit_stays_with_its_number() {
        let mut sheet = Sheet::new(24);
        sheet.row(2, "No meal", 9, "until Monday 20:00 it weighs 1.52\u{a0}kg");
        sheet.gap();
        sheet.gap();
        sheet.item(0, "one two three four five six seven");
        assert_eq!(
            sheet.finish(),
            "  No meal  until Monday\n           20:00 it\n           weighs\n           1.52 kg\n\none two three four five\n  six seven\n"
        );
    }

    #[test]
    fn a_label_too_long_for_its_column_has_a_line_for_itself() {
        let mut sheet = Sheet::new(40);
        sheet.row(0, "a long label", 6, "text");
        assert_eq!(sheet.finish(), "a long label\n      text\n");
    }
}
