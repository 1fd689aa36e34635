//! What the program prints: answers on standard output, messages on standard error. A reader that closes the pipe
//! ends the program quietly.

use std::io::{self, IsTerminal, Write};

/// Where answers go.
pub struct Out {
    stdout: io::BufWriter<io::Stdout>,
    closed: bool,
}

impl Out {
    /// Standard output and standard error.
    pub fn new() -> Out {
        Out { stdout: io::BufWriter::new(io::stdout()), closed: false }
    }

    /// A line of the answer.
    pub fn line(&mut self, text: impl AsRef<str>) {
        if !self.closed && writeln!(self.stdout, "{}", text.as_ref()).is_err() {
            self.closed = true;
        }
    }

    /// Text of the answer as it is, without a line end added.
    pub fn text(&mut self, text: &str) {
        if !self.closed && self.stdout.write_all(text.as_bytes()).is_err() {
            self.closed = true;
        }
    }

    /// A whole answer as JSON.
    pub fn json(&mut self, value: &serde_json::Value) {
        self.line(format!("{value:#}"));
    }

    /// A message beside the answer.
    pub fn message(&mut self, text: impl AsRef<str>) {
        self.flush();
        // When even the messages' pipe is closed there is nobody left to tell.
        let _ = writeln!(io::stderr(), "{}", text.as_ref());
    }

    /// Sends what waits.
    pub fn flush(&mut self) {
        if self.stdout.flush().is_err() {
            self.closed = true;
        }
    }

    /// How wide the reader's window is, in columns.
    pub fn width(&self) -> usize {
        const USUAL: usize = 80;
        if !io::stdout().is_terminal() {
            return 100;
        }
        std::env::var("COLUMNS").ok().and_then(|text| text.parse().ok()).unwrap_or(USUAL).clamp(40, 140)
    }
}

impl Drop for Out {
    fn drop(&mut self) {
        self.flush();
    }
}
