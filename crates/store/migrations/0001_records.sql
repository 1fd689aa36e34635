-- The first schema. What a keeper writes is kept for the life of the animal, thirty years and more, so the tables
-- are plain: one for each kind of record, the trade's words for names, the unit in the name of the column, dates as
-- they were written. Nothing is changed or taken away: a correction is a new record that points to the one it
-- replaces, a removal is a record too, and the views named current_* show the story as it stands. Each record carries
-- the SHA-256 of itself and of its forerunner from the first day on, since a chain cannot be added later where nothing
-- may be updated.
--
-- The tables last, reckoned and setting hold no records: they change, and all but setting can be rebuilt.

create table record_kind (
    kind   text primary key,                      -- as in record.kind; the table of that kind has _ for -
    says   text not null
) strict, without rowid;

insert into record_kind (kind, says) values
    ('animal', 'An animal and what is known of its origin. Its id, and that of all its corrections, is record.animal_id.'),
    ('enclosure', 'An enclosure. Its id, and that of all its corrections, is record.enclosure_id.'),
    ('household', 'What holds for the whole household.'),
    ('heater', 'A heater of an enclosure.'),
    ('stay', 'An animal moves into an enclosure.'),
    ('ending', 'An animal leaves the household, comes back from a loan, or dies.'),
    ('weighing', 'The animal on a scale.'),
    ('measurement', 'A length or a girth.'),
    ('meal', 'Prey offered once, with its outcome. A refusal is a meal too.'),
    ('shed', 'One cycle of shedding, or one step of it.'),
    ('handling', 'A handling session.'),
    ('cleaning', 'A chore: water changed, waste taken out, everything cleaned.'),
    ('reading', 'A temperature or humidity that a person read and typed.'),
    ('sign', 'Something seen on the animal that may matter to its health.'),
    ('breeding', 'A step of breeding.'),
    ('power', 'A power cut.'),
    ('treatment', 'A course that a veterinarian prescribed.'),
    ('dose', 'One time that a prescribed course was given.'),
    ('planned', 'Something planned, with its span.'),
    ('seen', 'Someone saw the animal, or saw that it was in.'),
    ('note', 'Free words.'),
    ('freezer-lot', 'Frozen prey of one class bought at one time: how many are left.'),
    ('override', 'A value of the species profile that does not hold here, and why.'),
    ('removal', 'A record was taken back, or put back again.');

-- The head of every record, and of every removal.
create table record (
    seq              integer primary key,         -- order of writing, from 1 without a gap; the chain runs along it
    id               text not null unique check (length(id) = 36 and id = lower(id)),     -- UUIDv7
    kind             text not null references record_kind (kind),
    animal_id        text references record (id), -- id of the first record of the animal
    enclosure_id     text references record (id), -- id of the first record of the enclosure
    happened         text,                        -- ISO 8601, as precisely as it is known: 2026, 2026-03, 2026-03-14
    happened_from_s  integer,                     -- the span that it means, in seconds since 1970-01-01T00:00Z
    happened_to_s    integer,
    precision        text check (precision in ('minute', 'day', 'month', 'year')),
    zone             text,                        -- the zone in which all dates of the record are meant
    recorded_at_s    integer not null,            -- when it was written down
    recorded_by      text not null check (recorded_by <> ''),
    corrects         text references record (id), -- the record that this one replaces
    story            integer not null references record (seq),  -- the first record of the story; itself when it is first
    why              text,                        -- the reason of a correction or of a removal
    batch            integer not null references record (seq),  -- the first record of the act of entry it belongs to
    fingerprint      text,                        -- of the file it was read from
    forerunner_hash  blob not null check (length(forerunner_hash) = 32),
    hash             blob not null check (length(hash) = 32),
    check ((happened is null) = (happened_from_s is null)),
    check ((happened is null) = (happened_to_s is null)),
    check ((happened is null) = (precision is null)),
    check (happened_from_s <= happened_to_s),
    check ((corrects is null) = (story = seq)),
    check (story <= seq and batch <= seq)
) strict;
create index record_of_animal on record (animal_id, kind, happened_from_s) where animal_id is not null;
create index record_of_enclosure on record (enclosure_id, kind, happened_from_s) where enclosure_id is not null;
create index record_of_household on record (kind, happened_from_s) where animal_id is null and enclosure_id is null;
create index record_animals on record (animal_id, seq) where kind = 'animal';
create index record_enclosures on record (enclosure_id, seq) where kind = 'enclosure';
create index record_recorded on record (recorded_at_s);
create index record_correction on record (story, seq) where corrects is not null;
create index record_fingerprint on record (fingerprint) where fingerprint is not null;

-- The chain is kept by the database itself: a record is written at its end, on the hash of the last one, or not at all.
create trigger record_is_next before insert on record
when new.seq is not (select 1 + coalesce(max(seq), 0) from record)
    or new.forerunner_hash is not coalesce((select hash from record order by seq desc limit 1), zeroblob(32))
begin
    select raise(abort, 'a record is only ever added at the end of the chain');
end;

-- A record was taken back, or put back again. The last word about a record holds.
create table removal (
    seq        integer primary key references record (seq),
    removes    text not null references record (id),
    puts_back  integer not null check (puts_back in (0, 1)),    -- 1: it stands again
    undoes     integer references record (seq)   -- the act of entry that is undone by this, where one is
) strict;
create index removal_of on removal (removes, seq);
create index removal_undoing on removal (undoes) where undoes is not null;

-- An animal and what is known of its origin. Its id, and that of all its corrections, is record.animal_id.
create table animal (
    seq integer primary key references record (seq),
    species text not null check (species <> ''),
    family text,
    name text,
    hatched text,
    age_months real check (0 <= age_months),
    sex text check (sex in ('female', 'male', 'unknown')),
    arrived text,
    stage text check (stage in ('hatchling', 'juvenile', 'subadult', 'adult', 'aged')),
    wild_caught integer check (wild_caught in (0, 1)),
    used_to_handling integer check (used_to_handling in (0, 1)),
    never_fed integer check (never_fed in (0, 1)),
    complete_since text
) strict;

-- An enclosure. Its id, and that of all its corrections, is record.enclosure_id.
create table enclosure (
    seq integer primary key references record (seq),
    name text,
    room text,
    walk real,
    length_cm real check (0 < length_cm),
    width_cm real check (0 < width_cm),
    height_cm real check (0 < height_cm),
    material text,
    lid text check (lid in ('solid', 'mesh', 'part-mesh')),
    substrate text,
    hides integer check (0 <= hides),
    humid_hide integer check (humid_hide in (0, 1)),
    cohabitants integer check (0 <= cohabitants),
    locks integer check (locks in (0, 1)),
    gaps integer check (gaps in (0, 1)),
    floor_wet integer check (floor_wet in (0, 1))
) strict;
create index enclosure_in_room on enclosure (room);

-- What holds for the whole household.
create table household (
    seq integer primary key references record (seq),
    other_reptiles integer check (other_reptiles in (0, 1)),
    quarantine_from text,
    contacts_sick integer check (contacts_sick in (0, 1)),
    young_children integer check (young_children in (0, 1)),
    region text,
    room_c real
) strict;

-- A heater of an enclosure.
create table heater (
    seq integer primary key references record (seq),
    kind text not null,
    watts real check (0 < watts),
    thermostat text check (thermostat in ('none', 'on-off', 'pulse', 'dimming')),
    set_c real,
    guarded integer check (guarded in (0, 1)),
    inside integer check (inside in (0, 1)),
    probe text
) strict;

-- An animal moves into an enclosure.
create table stay (
    seq integer primary key references record (seq),
    at text not null,
    enclosure text not null references record (id)
) strict;
create index stay_in on stay (enclosure);

-- An animal leaves the household, comes back from a loan, or dies.
create table ending (
    seq integer primary key references record (seq),
    at text not null,
    what text not null check (what in ('sold', 'given', 'lent', 'returned', 'died')),
    note text
) strict;

-- The animal on a scale.
create table weighing (
    seq integer primary key references record (seq),
    at text not null,
    mass_g real not null check (0 < mass_g),
    estimated integer not null check (estimated in (0, 1))
) strict;

-- A length or a girth.
create table measurement (
    seq integer primary key references record (seq),
    at text not null,
    total_length_cm real check (0 < total_length_cm),
    snout_vent_cm real check (0 < snout_vent_cm),
    girth_cm real check (0 < girth_cm),
    check (coalesce(total_length_cm, snout_vent_cm, girth_cm) is not null)
) strict;

-- Prey offered once, with its outcome. A refusal is a meal too.
create table meal (
    seq integer primary key references record (seq),
    at text not null,
    prey text,
    mass_g real check (0 < mass_g),
    "count" integer not null check (1 <= "count"),
    outcome text not null check (outcome in ('taken', 'refused', 'left', 'unseen', 'regurgitated')),
    regurgitated_at text check (regurgitated_at is null or outcome = 'regurgitated'),
    state text check (state in ('frozen-thawed', 'fresh-killed', 'live')),
    surface_c real,
    minutes_left real check (0 <= minutes_left),
    thawed text,
    frozen_on text,
    refrozen integer not null check (refrozen in (0, 1))
) strict;

-- One cycle of shedding, or one step of it.
create table shed (
    seq integer primary key references record (seq),
    dull_at text,
    blue_at text,
    cleared_at text,
    shed_at text,
    pieces integer check (1 <= pieces),
    retained text,
    check (coalesce(dull_at, blue_at, cleared_at, shed_at) is not null)
) strict;

-- A handling session.
create table handling (
    seq integer primary key references record (seq),
    at text not null,
    minutes real check (0 <= minutes)
) strict;

-- A chore: water changed, waste taken out, everything cleaned.
create table cleaning (
    seq integer primary key references record (seq),
    at text not null,
    task text not null check (task in ('water', 'spot', 'full'))
) strict;

-- A temperature or humidity that a person read and typed.
create table reading (
    seq integer primary key references record (seq),
    at text not null,
    spot text not null,
    temperature_c real check (-273.15 <= temperature_c),
    humidity_pct real check (humidity_pct between 0 and 100),
    period text check (period in ('day', 'night')),
    means text not null check (means in ('spot-check', 'mean', 'minimum', 'maximum')),
    hours real check (0 <= hours),
    check (temperature_c is not null or humidity_pct is not null)
) strict;

-- Something seen on the animal that may matter to its health.
create table sign (
    seq integer primary key references record (seq),
    at text not null,
    sign text not null,
    grade text check (grade in ('slight', 'marked', 'severe')),
    cleared_at text,
    note text
) strict;

-- A step of breeding.
create table breeding (
    seq integer primary key references record (seq),
    at text not null,
    what text not null check (what in ('paired', 'gravid', 'laid', 'born')),
    "count" integer check (0 <= "count")
) strict;

-- A power cut.
create table power (
    seq integer primary key references record (seq),
    "from" text not null,
    until text
) strict;

-- A course that a veterinarian prescribed.
create table treatment (
    seq integer primary key references record (seq),
    name text not null check (name <> ''),
    prescribed_by text,
    "from" text not null,
    every_hours real check (0 < every_hours),
    doses integer check (1 <= doses),
    given text
) strict;

-- One time that a prescribed course was given.
create table dose (
    seq integer primary key references record (seq),
    at text not null,
    treatment text not null check (treatment <> '')
) strict;

-- Something planned, with its span.
create table planned (
    seq integer primary key references record (seq),
    "from" text not null,
    until text,
    sitter integer check (sitter in (0, 1)),
    what text not null
) strict;

-- Someone saw the animal, or saw that it was in.
create table seen (
    seq integer primary key references record (seq),
    at text not null
) strict;

-- Free words.
create table note (
    seq integer primary key references record (seq),
    at text not null,
    "text" text not null check ("text" <> '')
) strict;

-- Frozen prey of one class bought at one time: how many are left.
create table freezer_lot (
    seq integer primary key references record (seq),
    class text not null,
    "count" integer not null check (0 <= "count"),
    mass_g real check (0 < mass_g),
    bought text
) strict;

-- A value of the species profile that does not hold here, and why.
create table "override" (
    seq integer primary key references record (seq),
    path text not null check (path <> ''),
    low real not null,
    high real not null,
    reason text not null check (reason <> ''),
    check (low <= high)
) strict;

-- What stands: all records but those that were taken back.
create view standing_record as
select * from record as r
where r.kind <> 'removal'
    and coalesce((select v.puts_back from removal as v where v.removes = r.id order by v.seq desc limit 1), 1) = 1;

-- What holds now: of each story its last record that stands.
create view current_record as
select * from standing_record as r
where not exists (
    select 1 from record as n
    where n.story = r.story and n.corrects is not null and r.seq < n.seq
        and coalesce((select v.puts_back from removal as v where v.removes = n.id order by v.seq desc limit 1), 1) = 1);

-- Who took back what, when and why.
create view removed_record as
select v.removes as id, r.recorded_by as removed_by, r.recorded_at_s as removed_at_s, r.why as why
from removal as v join record as r on r.seq = v.seq
where v.puts_back = 0 and not exists (select 1 from removal as n where n.removes = v.removes and v.seq < n.seq);

create view current_animal as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.species, t.family, t.name, t.hatched, t.age_months, t.sex, t.arrived, t.stage, t.wild_caught,
    t.used_to_handling, t.never_fed, t.complete_since
from current_record as r join animal as t on t.seq = r.seq
where r.kind = 'animal';

create view current_enclosure as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.name, t.room, t.walk, t.length_cm, t.width_cm, t.height_cm, t.material, t.lid, t.substrate, t.hides,
    t.humid_hide, t.cohabitants, t.locks, t.gaps, t.floor_wet
from current_record as r join enclosure as t on t.seq = r.seq
where r.kind = 'enclosure';

create view current_household as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.other_reptiles, t.quarantine_from, t.contacts_sick, t.young_children, t.region, t.room_c
from current_record as r join household as t on t.seq = r.seq
where r.kind = 'household';

create view current_heater as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.kind, t.watts, t.thermostat, t.set_c, t.guarded, t.inside, t.probe
from current_record as r join heater as t on t.seq = r.seq
where r.kind = 'heater';

create view current_stay as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.enclosure
from current_record as r join stay as t on t.seq = r.seq
where r.kind = 'stay';

create view current_ending as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.what, t.note
from current_record as r join ending as t on t.seq = r.seq
where r.kind = 'ending';

create view current_weighing as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.mass_g, t.estimated
from current_record as r join weighing as t on t.seq = r.seq
where r.kind = 'weighing';

create view current_measurement as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.total_length_cm, t.snout_vent_cm, t.girth_cm
from current_record as r join measurement as t on t.seq = r.seq
where r.kind = 'measurement';

create view current_meal as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.prey, t.mass_g, t."count", t.outcome, t.regurgitated_at, t.state, t.surface_c, t.minutes_left,
    t.thawed, t.frozen_on, t.refrozen
from current_record as r join meal as t on t.seq = r.seq
where r.kind = 'meal';

create view current_shed as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.dull_at, t.blue_at, t.cleared_at, t.shed_at, t.pieces, t.retained
from current_record as r join shed as t on t.seq = r.seq
where r.kind = 'shed';

create view current_handling as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.minutes
from current_record as r join handling as t on t.seq = r.seq
where r.kind = 'handling';

create view current_cleaning as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.task
from current_record as r join cleaning as t on t.seq = r.seq
where r.kind = 'cleaning';

create view current_reading as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.spot, t.temperature_c, t.humidity_pct, t.period, t.means, t.hours
from current_record as r join reading as t on t.seq = r.seq
where r.kind = 'reading';

create view current_sign as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.sign, t.grade, t.cleared_at, t.note
from current_record as r join sign as t on t.seq = r.seq
where r.kind = 'sign';

create view current_breeding as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.what, t."count"
from current_record as r join breeding as t on t.seq = r.seq
where r.kind = 'breeding';

create view current_power as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t."from", t.until
from current_record as r join power as t on t.seq = r.seq
where r.kind = 'power';

create view current_treatment as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.name, t.prescribed_by, t."from", t.every_hours, t.doses, t.given
from current_record as r join treatment as t on t.seq = r.seq
where r.kind = 'treatment';

create view current_dose as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.treatment
from current_record as r join dose as t on t.seq = r.seq
where r.kind = 'dose';

create view current_planned as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t."from", t.until, t.sitter, t.what
from current_record as r join planned as t on t.seq = r.seq
where r.kind = 'planned';

create view current_seen as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at
from current_record as r join seen as t on t.seq = r.seq
where r.kind = 'seen';

create view current_note as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t."text"
from current_record as r join note as t on t.seq = r.seq
where r.kind = 'note';

create view current_freezer_lot as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.class, t."count", t.mass_g, t.bought
from current_record as r join freezer_lot as t on t.seq = r.seq
where r.kind = 'freezer-lot';

create view current_override as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.path, t.low, t.high, t.reason
from current_record as r join "override" as t on t.seq = r.seq
where r.kind = 'override';

-- Kept with every record, in the same transaction: what is last of each animal, enclosure and of the household.
create table last (
    subject_id       text not null,              -- an animal, an enclosure, or the word household
    what             text not null,              -- a kind of record; cleaning-water, -spot, -full; meal-taken
    seq              integer not null references record (seq),
    happened_from_s  integer,
    primary key (subject_id, what)
) strict, without rowid;

-- Where each animal lives now, and whether it has left.
create view whereabouts as
select a.animal_id, s.enclosure as enclosure_id, ls.happened_from_s as since_s, e.what as ending,
    coalesce(e.what in ('sold', 'given', 'died'), 0) as has_left
from current_animal as a
left join last as ls on ls.subject_id = a.animal_id and ls.what = 'stay'
left join stay as s on s.seq = ls.seq
left join last as le on le.subject_id = a.animal_id and le.what = 'ending'
left join ending as e on e.seq = le.seq;

-- What was reckoned from the records, until something changes.
create table reckoned (
    animal_id       text primary key,
    answer          text,                        -- JSON
    rules_version   text,
    reckoned_for_s  integer,
    valid_until_s   integer,
    stale           integer not null check (stale in (0, 1)),
    changed_seq     integer not null             -- the last record that bears on the answer
) strict, without rowid;

create table setting (
    key    text primary key,
    value  text not null
) strict, without rowid;

-- Nothing is changed and nothing is taken away.

create trigger record_stays before update on record begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger record_remains before delete on record begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger removal_stays before update on removal begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger removal_remains before delete on removal begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger animal_stays before update on animal begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger animal_remains before delete on animal begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger enclosure_stays before update on enclosure begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger enclosure_remains before delete on enclosure begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger household_stays before update on household begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger household_remains before delete on household begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger heater_stays before update on heater begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger heater_remains before delete on heater begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger stay_stays before update on stay begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger stay_remains before delete on stay begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger ending_stays before update on ending begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger ending_remains before delete on ending begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger weighing_stays before update on weighing begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger weighing_remains before delete on weighing begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger measurement_stays before update on measurement begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger measurement_remains before delete on measurement begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger meal_stays before update on meal begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger meal_remains before delete on meal begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger shed_stays before update on shed begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger shed_remains before delete on shed begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger handling_stays before update on handling begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger handling_remains before delete on handling begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger cleaning_stays before update on cleaning begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger cleaning_remains before delete on cleaning begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger reading_stays before update on reading begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger reading_remains before delete on reading begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger sign_stays before update on sign begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger sign_remains before delete on sign begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger breeding_stays before update on breeding begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger breeding_remains before delete on breeding begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger power_stays before update on power begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger power_remains before delete on power begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger treatment_stays before update on treatment begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger treatment_remains before delete on treatment begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger dose_stays before update on dose begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger dose_remains before delete on dose begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger planned_stays before update on planned begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger planned_remains before delete on planned begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger seen_stays before update on seen begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger seen_remains before delete on seen begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger note_stays before update on note begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger note_remains before delete on note begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger freezer_lot_stays before update on freezer_lot begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger freezer_lot_remains before delete on freezer_lot begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger override_stays before update on "override" begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger override_remains before delete on "override" begin select raise(abort, 'records are never deleted: write a removal'); end;

-- The fields of a record are written together with its head, once.
create trigger removal_is_next before insert on removal
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'removal'
    or exists (select 1 from removal where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger animal_is_next before insert on animal
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'animal'
    or exists (select 1 from animal where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger enclosure_is_next before insert on enclosure
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'enclosure'
    or exists (select 1 from enclosure where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger household_is_next before insert on household
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'household'
    or exists (select 1 from household where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger heater_is_next before insert on heater
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'heater'
    or exists (select 1 from heater where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger stay_is_next before insert on stay
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'stay'
    or exists (select 1 from stay where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger ending_is_next before insert on ending
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'ending'
    or exists (select 1 from ending where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger weighing_is_next before insert on weighing
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'weighing'
    or exists (select 1 from weighing where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger measurement_is_next before insert on measurement
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'measurement'
    or exists (select 1 from measurement where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger meal_is_next before insert on meal
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'meal'
    or exists (select 1 from meal where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger shed_is_next before insert on shed
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'shed'
    or exists (select 1 from shed where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger handling_is_next before insert on handling
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'handling'
    or exists (select 1 from handling where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger cleaning_is_next before insert on cleaning
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'cleaning'
    or exists (select 1 from cleaning where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger reading_is_next before insert on reading
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'reading'
    or exists (select 1 from reading where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger sign_is_next before insert on sign
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'sign'
    or exists (select 1 from sign where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger breeding_is_next before insert on breeding
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'breeding'
    or exists (select 1 from breeding where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger power_is_next before insert on power
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'power'
    or exists (select 1 from power where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger treatment_is_next before insert on treatment
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'treatment'
    or exists (select 1 from treatment where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger dose_is_next before insert on dose
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'dose'
    or exists (select 1 from dose where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger planned_is_next before insert on planned
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'planned'
    or exists (select 1 from planned where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger seen_is_next before insert on seen
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'seen'
    or exists (select 1 from seen where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger note_is_next before insert on note
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'note'
    or exists (select 1 from note where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger freezer_lot_is_next before insert on freezer_lot
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'freezer-lot'
    or exists (select 1 from freezer_lot where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
create trigger override_is_next before insert on "override"
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'override'
    or exists (select 1 from "override" where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
