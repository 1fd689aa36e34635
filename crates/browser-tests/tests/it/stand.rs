//! What every test stands on: a household that is served, a driver, a browser.

use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use serde_json::{Value, json};
use tempfile::TempDir;
use thirtyfour::prelude::*;

/// The program that is tested: the one that is named, else the one that was built beside this test.
fn program() -> PathBuf {
    let named = std::env::var_os("WARMSIDE_PROGRAM").map(PathBuf::from);
    let beside = || {
        let test = std::env::current_exe().unwrap();
        test.parent().unwrap().parent().unwrap().join(if cfg!(windows) { "warmside.exe" } else { "warmside" })
    };
    let program = named.unwrap_or_else(beside);
    assert!(program.exists(), "{} is not there: build it first (cargo build -p warmside)", program.display());
    program
}

/// A process that ends with the test.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Starts a process and gives what stands after `mark` on the first line of its output that has it.
fn start(mut command: Command, mark: &str) -> (Running, String) {
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("it starts");
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
    let running = Running(child);
    let mut seen = String::new();
    while let Some(line) = lines.next() {
        if let Some((_, rest)) = line.split_once(mark) {
            let rest = rest.to_owned();
            // Read on, so that it never writes to a pipe that nobody holds.
            std::thread::spawn(move || lines.for_each(drop));
            return (running, rest);
        }
        seen.push_str(&line);
    }
    panic!("no line with {mark:?} came: {seen}");
}

/// A household that is served from a folder of its own.
pub struct Household {
    pub address: String,
    _served: Running,
    _folder: TempDir,
}

impl Household {
    pub fn empty() -> Household {
        Household::serve(TempDir::new().unwrap())
    }

    /// Animals that were made up, with years of records.
    pub fn made_up() -> Household {
        let folder = TempDir::new().unwrap();
        let made =
            Command::new(program()).arg("--folder").arg(folder.path()).args(["demo", "--no-serve"]).output().unwrap();
        assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
        Household::serve(folder)
    }

    fn serve(folder: TempDir) -> Household {
        let mut command = Command::new(program());
        command.arg("--folder").arg(folder.path()).args(["serve", "--port", "0"]);
        let (served, rest) = start(command, "http://");
        let host = rest.split('/').next().unwrap();
        Household { address: format!("http://{host}"), _served: served, _folder: folder }
    }
}

/// How the page is looked at.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    pub width: u32,
    pub height: u32,
    pub dark: bool,
    pub script: bool,
}

pub const PHONE: Look = Look { width: 390, height: 844, dark: false, script: true };
pub const DESK: Look = Look { width: 1280, height: 900, dark: false, script: true };

pub struct Browser {
    pub driver: WebDriver,
    _driving: Running,
    _profile: TempDir,
}

/// Is there a browser? Where there is none, the test is left out; under CI that is a failure.
pub fn is_there() -> bool {
    let answers = |name: &str| Command::new(name).arg("--version").output().is_ok_and(|output| output.status.success());
    let there = answers("chromium") && answers("chromedriver");
    if !there {
        let what = "Chromium and its driver are not here (apt-get install chromium chromium-driver)";
        assert!(std::env::var_os("CI").is_none(), "{what}");
        eprintln!("left out: {what}");
    }
    there
}

impl Browser {
    pub async fn open(look: Look) -> Browser {
        let mut command = Command::new("chromedriver");
        command.arg("--port=0");
        let (driving, port) = start(command, "started successfully on port ");
        let profile = TempDir::new().unwrap();
        let mut wanted = DesiredCapabilities::chrome();
        for argument in [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
        ] {
            wanted.add_arg(argument).unwrap();
        }
        wanted.add_arg(&format!("--user-data-dir={}", profile.path().display())).unwrap();
        if !look.script {
            let off = json!({ "profile.managed_default_content_settings.javascript": 2 });
            wanted.add_experimental_option("prefs", off).unwrap();
        }
        let driver = WebDriver::new(format!("http://127.0.0.1:{}", port.trim_end_matches('.')), wanted).await.unwrap();
        let browser = Browser { driver, _driving: driving, _profile: profile };
        browser.look(look).await;
        browser
    }

    /// Looks at the page in another way.
    pub async fn look(&self, look: Look) {
        let size =
            json!({ "width": look.width, "height": look.height, "deviceScaleFactor": 1, "mobile": look.width < 600 });
        self.driver.cdp().send_raw("Emulation.setDeviceMetricsOverride", size).await.unwrap();
        let scheme = if look.dark { "dark" } else { "light" };
        let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.driver.cdp().send_raw("Emulation.setEmulatedMedia", media).await.unwrap();
    }

    pub async fn go(&self, address: &str) {
        self.driver.goto(address).await.unwrap();
    }

    /// The text of the whole page; empty while one page gives way to the next.
    pub async fn words(&self) -> String {
        let Ok(body) = self.driver.find(By::Tag("body")).await else { return String::new() };
        body.text().await.unwrap_or_default().replace('\u{a0}', " ")
    }

    /// Waits until the page says all of this, and gives its text.
    pub async fn says(&self, wanted: &[&str]) -> String {
        const TRIES: usize = 100;
        let mut words = String::new();
        for _ in 0..TRIES {
            words = self.words().await;
            if wanted.iter().all(|one| words.contains(one)) {
                return words;
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("the page does not say {wanted:?}: {words}");
    }

    pub async fn find(&self, css: &str) -> WebElement {
        self.driver.find(By::Css(css)).await.unwrap_or_else(|error| panic!("nothing on the page is {css}: {error}"))
    }

    pub async fn tap(&self, css: &str) {
        let element = self.find(css).await;
        element.scroll_into_view().await.unwrap_or(());
        element.click().await.unwrap();
    }

    /// Taps the button with these words in a part of the page.
    pub async fn tap_button(&self, within: &str, words: &str) {
        for button in self
            .driver
            .find_all(By::Css(format!("{within} button, {within} a.button, {within} summary")))
            .await
            .unwrap()
        {
            if button.text().await.unwrap().lines().next().is_some_and(|line| line.trim().starts_with(words)) {
                button.scroll_into_view().await.unwrap_or(());
                button.click().await.unwrap();
                return;
            }
        }
        panic!("no button {words:?} in {within}: {}", self.words().await);
    }

    pub async fn fill(&self, css: &str, text: &str) {
        let element = self.find(css).await;
        element.clear().await.unwrap();
        element.send_keys(text).await.unwrap();
    }

    /// Sets a field whose way of typing depends on the language of the browser: a date.
    pub async fn set(&self, css: &str, value: &str) {
        let script = "document.querySelector(arguments[0]).value = arguments[1]";
        self.driver.execute(script, vec![json!(css), json!(value)]).await.unwrap();
    }

    pub async fn ask(&self, script: &str) -> Value {
        self.driver.execute(script, Vec::<Value>::new()).await.unwrap().json().clone()
    }

    pub async fn close(self) {
        self.driver.clone().quit().await.unwrap();
    }
}
