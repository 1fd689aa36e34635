//! The answer: what an animal needs now, what must wait, what is coming, what is wrong, and why.
//!
//! The codes are a public interface (tests, JSON and integrations use them): new ones may be added, none is renamed.

use std::borrow::Cow;

use records::choices;
use records::facts::Stage;
use records::timeline::Key;
use species::Status;
use units::{Moment, When, Zone};

choices!(
    /// What can be held.
    Action, "action", { OfferMeal = "offer-meal", Handle = "handle", Move = "move", FullClean = "full-clean" }
);

choices!(
    /// What can be due.
    Task, "task", {
        OfferMeal = "offer-meal", ChangeWater = "change-water", SpotClean = "spot-clean", FullClean = "full-clean",
        Weigh = "weigh", Measure = "measure", CheckClimate = "check-climate", CheckShed = "check-shed",
        Handle = "handle", QuarantineCheck = "quarantine-check", FaecalTest = "faecal-test",
        ThermostatTest = "thermostat-test", LampChange = "lamp-change", GiveTreatment = "give-treatment",
        Isolate = "isolate", Restock = "restock", PreyStepUp = "prey-step-up",
        EnclosureStepUp = "enclosure-step-up", VetVisit = "vet-visit", LicenceRenewal = "licence-renewal",
    }
);

impl Task {
    /// What is done to the animal by this task: it waits for a hold on any of these.
    pub fn needs(self) -> &'static [Action] {
        match self {
            Task::OfferMeal => &[Action::OfferMeal],
            Task::Handle | Task::Measure => &[Action::Handle],
            Task::FullClean => &[Action::FullClean, Action::Move],
            _ => &[],
        }
    }
}

choices!(
    /// What an animal is in now.
    State, "state", {
        Settling = "settling", Quarantine = "quarantine", Digesting = "digesting", InShed = "in-shed",
        Fasting = "fasting", AfterRegurgitation = "after-regurgitation", Brumating = "brumating", Gravid = "gravid",
        UnderTreatment = "under-treatment", Away = "away",
    }
);

choices!(
    /// How much a finding matters, from the least.
    Severity, "severity", {
        /// Good to know.
        Note = "note",
        /// Keep an eye on it.
        Watch = "watch",
        /// Do something today.
        Act = "act",
        /// Call a reptile veterinarian.
        Vet = "vet",
        /// Now.
        Urgent = "urgent",
    }
);

choices!(
    /// How sure a finding is.
    Sure, "degree of certainty", { Firm = "firm", Likely = "likely", Possible = "possible" }
);

choices!(
    /// What the records can show.
    Code, "finding", {
        // climate
        WarmSurfaceHot = "warm-surface-hot", WarmSurfaceCool = "warm-surface-cool", WarmAirHot = "warm-air-hot",
        WarmAirCool = "warm-air-cool", CoolSideWarm = "cool-side-warm", CoolSideCold = "cool-side-cold",
        NightCold = "night-cold", NoGradient = "no-gradient", HumidityLow = "humidity-low",
        HumidityHigh = "humidity-high", HumidityLowInShed = "humidity-low-in-shed", WetFloor = "wet-floor",
        HeaterWithoutThermostat = "heater-without-thermostat", HeaterUnguarded = "heater-unguarded",
        HeaterWrongKind = "heater-wrong-kind",
        HeaterWeak = "heater-weak", HeaterStrong = "heater-strong", ProbeMisplaced = "probe-misplaced",
        ProbeDisagreement = "probe-disagreement", SensorFlat = "sensor-flat", SensorGap = "sensor-gap",
        UnitSuspect = "unit-suspect", Condensation = "condensation", TooColdToDigest = "too-cold-to-digest",
        ThermostatFaultSuspected = "thermostat-fault-suspected", PowerOut = "power-out",
        RewarmSlowly = "rewarm-slowly",
        // feeding
        MealOverdue = "meal-overdue", RefusalRunUsual = "refusal-run-usual",
        RefusalRunUnusual = "refusal-run-unusual", FastLong = "fast-long",
        HatchlingNotStarted = "hatchling-not-started", PreyLarge = "prey-large", PreySmall = "prey-small",
        PreyStepUp = "prey-step-up", FedDuringHold = "fed-during-hold",
        FedEarlyAfterRegurgitation = "fed-early-after-regurgitation", Regurgitation = "regurgitation",
        RegurgitationRepeated = "regurgitation-repeated", RationHigh = "ration-high", RationLow = "ration-low",
        LivePrey = "live-prey", PreyTooCool = "prey-too-cool", PreyTooHot = "prey-too-hot",
        ThawUnsafe = "thaw-unsafe", RefrozenPrey = "refrozen-prey", PreyOld = "prey-old",
        PreyLeftTooLong = "prey-left-too-long", MealUnconfirmed = "meal-unconfirmed", RefeedGently = "refeed-gently",
        MovedSoonAfterMeal = "moved-soon-after-meal",
        // mass
        MassLossWatch = "mass-loss-watch", MassLossVet = "mass-loss-vet", GrowthSlow = "growth-slow",
        GrowthFast = "growth-fast", ConditionThin = "condition-thin", ConditionHeavy = "condition-heavy",
        MassSuspect = "mass-suspect", MassEstimated = "mass-estimated",
        // shed
        ShedSoon = "shed-soon", ShedLate = "shed-late", ShedInPieces = "shed-in-pieces",
        RetainedSkin = "retained-skin", RetainedEyeCap = "retained-eye-cap", RetainedTailTip = "retained-tail-tip",
        ShedFrequent = "shed-frequent",
        // handling
        HandledDuringHold = "handled-during-hold", HandledOften = "handled-often", HandledLong = "handled-long",
        TwoPersonHandling = "two-person-handling",
        // housing
        EnclosureOutgrown = "enclosure-outgrown", EnclosureOutgrownSoon = "enclosure-outgrown-soon",
        LidInsecure = "lid-insecure", SharedEnclosure = "shared-enclosure", HideMissing = "hide-missing",
        WaterOverdue = "water-overdue", CleanOverdue = "clean-overdue", SubstrateOverdue = "substrate-overdue",
        Escape = "escape", NotSeen = "not-seen", Unattended = "unattended",
        // arrival
        SettlingIn = "settling-in", QuarantineOpen = "quarantine-open", QuarantineBreach = "quarantine-breach",
        ContactExposed = "contact-exposed",
        // health
        Breathing = "breathing", Mouth = "mouth", Burn = "burn", Mites = "mites", Neurological = "neurological",
        Prolapse = "prolapse", Swelling = "swelling", Bleeding = "bleeding", SkinBlister = "skin-blister",
        Dehydration = "dehydration", Stools = "stools", Lethargy = "lethargy", EggRetention = "egg-retention",
        Injury = "injury", Eye = "eye", ForeignObject = "foreign-object", Emaciation = "emaciation", Death = "death",
        // people, paper, record
        Hygiene = "hygiene", Bite = "bite", PermitDue = "permit-due", PermitMissing = "permit-missing",
        RecordSuspect = "record-suspect", RecordMissing = "record-missing",
    }
);

choices!(
    /// What would help the answer most, where it is not known.
    Missing, "missing thing", {
        Species = "species", Age = "age", Sex = "sex", Mass = "mass", MassHistory = "mass-history",
        Length = "length", Girth = "girth", Meals = "meals", Sheds = "sheds",
        WarmSurfaceTemperature = "warm-surface-temperature", WarmAirTemperature = "warm-air-temperature",
        CoolTemperature = "cool-temperature", NightTemperature = "night-temperature", Humidity = "humidity",
        EnclosureSize = "enclosure-size", Lid = "lid", Heater = "heater", Thermostat = "thermostat",
        LastSeen = "last-seen",
    }
);

/// A record that something rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Evidence {
    /// Which record.
    pub key: Key,
    /// When it happened, where it has a date.
    pub at: Option<When>,
}

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceRef {
    /// Its key in `sources.toml`.
    pub key: Cow<'static, str>,
    /// How it is known.
    pub status: Status,
}

/// A state with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Which state.
    pub state: State,
    /// Since when.
    pub since: Moment,
    /// Until when; `None` when its end is open.
    pub until: Option<Moment>,
    /// Why.
    pub why: String,
}

/// One reason of a hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Because {
    /// Key of the rule.
    pub rule: &'static str,
    /// One sentence.
    pub why: String,
    /// The records it rests on.
    pub records: Vec<Evidence>,
    /// The first moment at which this reason no longer stands; `None` when it is open.
    pub until: Option<Moment>,
}

/// An action that must wait.
#[derive(Clone, Debug, PartialEq)]
pub struct Hold {
    /// Which.
    pub action: Action,
    /// Since when.
    pub from: Moment,
    /// The first moment at which it is allowed again; `None` while open until [`Hold::ends_with`].
    pub until: Option<Moment>,
    /// What ends an open hold: «the shed is off».
    pub ends_with: Option<&'static str>,
    /// Why, the strongest reason first.
    pub because: Vec<Because>,
}

/// A task, open now or coming.
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    /// Which.
    pub task: Task,
    /// From when.
    pub from: Moment,
    /// By when at the latest, where waiting has an end.
    pub by: Option<Moment>,
    /// Key of the rule.
    pub rule: &'static str,
    /// One sentence.
    pub why: String,
    /// The records it rests on.
    pub records: Vec<Evidence>,
}

/// Something the records show that the keeper should know.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Which.
    pub code: Code,
    /// How much it matters.
    pub severity: Severity,
    /// One sentence that says it.
    pub says: String,
    /// One sentence that says what to do.
    pub does: String,
    /// The caution that belongs beside it.
    pub caution: Option<&'static str>,
    /// The records it rests on.
    pub records: Vec<Evidence>,
    /// Key of the rule.
    pub rule: &'static str,
    /// The value of the rule.
    pub value: Option<f64>,
    /// Its unit.
    pub unit: Option<&'static str>,
    /// Where the value comes from.
    pub source: Vec<SourceRef>,
    /// How sure it is.
    pub sure: Sure,
}

/// Which prey fits.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PreyAdvice {
    /// Mass of one meal in g, from and to.
    pub mass_g: Option<(f64, f64)>,
    /// Classes that fit, the best first.
    pub classes: Vec<records::facts::Prey>,
    /// Thickest prey that fits, in mm.
    pub diameter_limit_mm: Option<f64>,
    /// One sentence that says how it was reckoned.
    pub why: String,
    /// Where the values come from.
    pub source: Vec<SourceRef>,
}

/// A date with its range: the 10th, 50th and 90th percentile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DateRange {
    /// 10th percentile.
    pub low: Moment,
    /// 50th percentile.
    pub mid: Moment,
    /// 90th percentile.
    pub high: Moment,
}

/// A value at a moment with its range: the 10th, 50th and 90th percentile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ValueRange {
    /// When.
    pub at: Moment,
    /// 10th percentile.
    pub low: f64,
    /// 50th percentile.
    pub mid: f64,
    /// 90th percentile.
    pub high: f64,
}

/// What is likely to come. What would not be honest is absent.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Forecasts {
    /// The next meal likely taken.
    pub next_meal: Option<DateRange>,
    /// The next shed.
    pub next_shed: Option<DateRange>,
    /// Body mass in g.
    pub mass: Vec<ValueRange>,
    /// Total length in cm.
    pub length: Vec<ValueRange>,
    /// The ration that mass and length assume.
    pub assumes: Option<String>,
    /// The next class of prey.
    pub prey_step_up: Option<DateRange>,
    /// The next enclosure.
    pub enclosure_step_up: Option<DateRange>,
}

/// Whose profile served.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ProfileUsed {
    /// The species' own.
    Own,
    /// The family's general profile.
    Family,
}

/// Age in days: from and to where the date of hatching is only known to a month or a year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AgeDays {
    /// The least it can be.
    pub low: f64,
    /// The most it can be.
    pub high: f64,
}

impl AgeDays {
    /// The middle of the span.
    pub fn middle(self) -> f64 {
        (self.low + self.high) / 2.0
    }
}

/// The whole answer about one animal at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The moment asked about.
    pub at: Moment,
    /// The zone of its clock times.
    pub zone: Zone,
    /// Key of the profile that served.
    pub species: String,
    /// Whose profile it is.
    pub profile: ProfileUsed,
    /// The species as it was given.
    pub name_as_given: String,
    /// Stage of life; `None` when it cannot be told.
    pub stage: Option<Stage>,
    /// Age.
    pub age_days: Option<AgeDays>,
    /// What the animal is in now.
    pub states: Vec<Standing>,
    /// What must wait, one per action.
    pub holds: Vec<Hold>,
    /// What is open now.
    pub due: Vec<Due>,
    /// What comes next.
    pub ahead: Vec<Due>,
    /// What the records show, the gravest first.
    pub findings: Vec<Finding>,
    /// Which prey fits.
    pub prey: Option<PreyAdvice>,
    /// What is likely to come.
    pub forecasts: Forecasts,
    /// What would help most, best first.
    pub missing: Vec<Missing>,
    /// What was assumed.
    pub assumed: Vec<String>,
}

impl Answer {
    /// The hold on an action, if there is one.
    pub fn hold(&self, action: Action) -> Option<&Hold> {
        self.holds.iter().find(|hold| hold.action == action)
    }

    /// Is the animal in this state?
    pub fn is_in(&self, state: State) -> bool {
        self.states.iter().any(|standing| standing.state == state)
    }

    /// Does this finding stand?
    pub fn finding(&self, code: Code) -> Option<&Finding> {
        self.findings.iter().find(|finding| finding.code == code)
    }

    /// The task, if it is open now.
    pub fn due(&self, task: Task) -> Option<&Due> {
        self.due.iter().find(|due| due.task == task)
    }
}
