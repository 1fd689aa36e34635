//! Writing SVG: elements with attributes and text, everything escaped.
//!
//! Looks come from the style sheet by class, so that a drawing is light or dark with the page around it.

use std::fmt::Write;

/// An SVG in the making.
#[derive(Clone, Debug, Default)]
pub struct Svg {
    text: String,
}

/// A coordinate with at most one decimal.
pub fn at(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// Text as it may stand in an element or attribute.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            letter => out.push(letter),
        }
    }
    out
}

/// Where a text stands to its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

impl Anchor {
    fn key(self) -> &'static str {
        match self {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        }
    }
}

impl Svg {
    /// A drawing of a size, with a class and one sentence that says what it shows.
    pub fn new(class: &str, width: f64, height: f64, says: &str) -> Svg {
        let mut svg = Svg::default();
        let (w, h) = (at(width), at(height));
        let _ = write!(
            svg.text,
            "<svg class=\"{class}\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\" role=\"img\" aria-label=\"{}\">",
            escaped(says)
        );
        svg
    }

    /// A rectangle; `says` is its tooltip.
    pub fn rect(&mut self, class: &str, x: f64, y: f64, width: f64, height: f64, says: &str) {
        let shape = format!(
            "<rect class=\"{class}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"",
            at(x),
            at(y),
            at(width.max(0.0)),
            at(height.max(0.0))
        );
        self.close(&shape, "rect", says);
    }

    /// A line.
    pub fn line(&mut self, class: &str, from: (f64, f64), to: (f64, f64), says: &str) {
        let shape = format!(
            "<line class=\"{class}\" x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"",
            at(from.0),
            at(from.1),
            at(to.0),
            at(to.1)
        );
        self.close(&shape, "line", says);
    }

    /// A dot.
    pub fn dot(&mut self, class: &str, x: f64, y: f64, radius: f64, says: &str) {
        let shape = format!("<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"", at(x), at(y), at(radius));
        self.close(&shape, "circle", says);
    }

    /// A path from its data.
    pub fn path(&mut self, class: &str, data: &str) {
        self.close(&format!("<path class=\"{class}\" d=\"{data}\""), "path", "");
    }

    /// A path through points.
    pub fn through(&mut self, class: &str, points: &[(f64, f64)], closed: bool) {
        let mut data = String::new();
        for (index, (x, y)) in points.iter().enumerate() {
            let _ = write!(data, "{}{} {}", if index == 0 { "M" } else { "L" }, at(*x), at(*y));
        }
        if closed {
            data.push('Z');
        }
        if 1 < points.len() {
            self.path(class, &data);
        }
    }

    /// A text.
    pub fn text(&mut self, class: &str, x: f64, y: f64, anchor: Anchor, text: &str) {
        let _ = write!(
            self.text,
            "<text class=\"{class}\" x=\"{}\" y=\"{}\" text-anchor=\"{}\">{}</text>",
            at(x),
            at(y),
            anchor.key(),
            escaped(text)
        );
    }

    /// A gradient from warm at the left to cool at the right, under a name of its own.
    pub fn warm_to_cool(&mut self, name: &str) {
        let _ = write!(
            self.text,
            "<defs><linearGradient id=\"{name}\"><stop class=\"stop-warm\" offset=\"0\"/><stop class=\"stop-mid\" offset=\"0.5\"/><stop class=\"stop-cool\" offset=\"1\"/></linearGradient></defs>"
        );
    }

    /// A rectangle filled with a gradient of that name.
    pub fn filled(&mut self, class: &str, gradient: &str, x: f64, y: f64, width: f64, height: f64) {
        let _ = write!(
            self.text,
            "<rect class=\"{class}\" fill=\"url(#{gradient})\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
            at(x),
            at(y),
            at(width),
            at(height)
        );
    }

    fn close(&mut self, shape: &str, name: &str, says: &str) {
        if says.is_empty() {
            let _ = write!(self.text, "{shape}/>");
        } else {
            let _ = write!(self.text, "{shape}><title>{}</title></{name}>", escaped(says));
        }
    }

    /// The whole drawing.
    pub fn finish(mut self) -> String {
        self.text.push_str("</svg>");
        self.text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_break_out_of_a_drawing() {
        let mut svg = Svg::new("strip", 100.0, 50.5, "life of \"A\" <b>");
        svg.text("s", 1.04, 2.0, Anchor::End, "<script>&'");
        svg.rect("shed", 1.0, 2.0, -3.0, 4.0, "off & on");
        let text = svg.finish();
        assert_eq!(
            text,
            "<svg class=\"strip\" width=\"100\" height=\"50.5\" viewBox=\"0 0 100 50.5\" role=\"img\" aria-label=\"life of &quot;A&quot; &lt;b&gt;\">\
             <text class=\"s\" x=\"1\" y=\"2\" text-anchor=\"end\">&lt;script&gt;&amp;&#39;</text>\
             <rect class=\"shed\" x=\"1\" y=\"2\" width=\"0\" height=\"4\"><title>off &amp; on</title></rect></svg>"
        );
    }
}
