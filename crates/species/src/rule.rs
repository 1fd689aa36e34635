//! General rules and facts of the trade.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::figure::{Alternative, Figure, Status};

/// A general rule of care, with its value where it has one.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rule {
    /// Its id, for example `quarantine_default`.
    pub id: String,
    /// What it is about, for example `feeding`.
    pub topic: String,
    /// The rule in words.
    pub text: String,
    /// Its value; `None` for a yes-or-no rule.
    pub figure: Option<Figure>,
    /// The unit of the value, for example `d`, `C` (degrees Celsius), `% of body mass`.
    pub unit: Option<String>,
    /// Lines for warn, act and urgent, in the rule's unit.
    pub steps: Vec<f64>,
    /// Values that hold for a group only.
    pub groups: Vec<RuleGroup>,
    /// What other sources say.
    pub alternatives: Vec<Alternative>,
    /// What it must never be used for.
    pub never: Option<String>,
    /// Key of the source.
    pub source: String,
    /// How sure it is.
    pub status: Status,
    /// Calculated or judged from other values.
    pub derived: bool,
    /// What should be known about it.
    pub note: Option<String>,
}

impl Rule {
    /// The group of that name.
    pub fn group(&self, name: &str) -> Option<&RuleGroup> {
        self.groups.iter().find(|group| group.group == name)
    }
}

/// The value of a rule for a group.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RuleGroup {
    /// Whom or what it holds for.
    pub group: String,
    /// The value; its source is the rule's unless it has its own.
    pub figure: Option<Figure>,
    /// Lines for warn, act and urgent.
    pub steps: Vec<f64>,
    /// The unit; the rule's unless the group has its own.
    pub unit: Option<String>,
    /// Further numbers by name, with the unit in the name.
    pub numbers: BTreeMap<String, f64>,
}
