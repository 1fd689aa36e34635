//! What every page has around it.

/// A page of the navigation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tab {
    /// Today's walk.
    Rounds,
    /// The coming days.
    Ahead,
    /// Animals and each of them.
    Animals,
    /// Frozen prey.
    Freezer,
    /// Answers without records.
    WhatIf,
    /// Enclosures and each of them.
    Enclosures,
    /// Profiles.
    Species,
    /// Settings and what holds for everyone.
    Household,
}

/// A link of the navigation.
pub(crate) struct TabLink {
    pub href: &'static str,
    pub text: &'static str,
    pub here: bool,
}

impl Tab {
    /// At the foot on a phone, where the thumb is.
    const MAIN: [Tab; 5] = [Tab::Rounds, Tab::Ahead, Tab::Animals, Tab::Freezer, Tab::WhatIf];
    /// One tap behind.
    const REST: [Tab; 3] = [Tab::Enclosures, Tab::Species, Tab::Household];

    fn link(self, here: Tab) -> TabLink {
        let (href, text) = match self {
            Tab::Rounds => ("/", "Rounds"),
            Tab::Ahead => ("/ahead", "Ahead"),
            Tab::Animals => ("/animals", "Animals"),
            Tab::Freezer => ("/freezer", "Freezer"),
            Tab::WhatIf => ("/what-if", "What-if"),
            Tab::Enclosures => ("/enclosures", "Enclosures"),
            Tab::Species => ("/species", "Species"),
            Tab::Household => ("/household", "Household"),
        };
        TabLink { href, text, here: self == here }
    }
}

/// What was just written down or undone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    /// One line.
    pub says: String,
    /// The act that can be undone.
    pub undo: Option<String>,
    /// What was undone can be brought back.
    pub redo: bool,
}

/// What every page has around it.
#[derive(Clone, Debug)]
pub struct Frame {
    /// The title of the page.
    pub title: String,
    /// Where the page belongs.
    pub tab: Tab,
    /// Address of the style sheet.
    pub style: String,
    /// Address of the script.
    pub script: String,
    /// Address of the icon.
    pub icon: String,
    /// Who writes.
    pub writer: Option<String>,
    /// This page's own address, to come back to.
    pub here: String,
    /// What was just written down.
    pub noted: Option<Noted>,
    /// Why nothing can be written down, where it cannot.
    pub read_only: Option<String>,
}

impl Frame {
    pub(crate) fn main_tabs(&self) -> Vec<TabLink> {
        Tab::MAIN.iter().map(|tab| tab.link(self.tab)).collect()
    }

    pub(crate) fn rest_tabs(&self) -> Vec<TabLink> {
        Tab::REST.iter().map(|tab| tab.link(self.tab)).collect()
    }

    pub(crate) fn is_in_rest(&self) -> bool {
        Tab::REST.contains(&self.tab)
    }
}
