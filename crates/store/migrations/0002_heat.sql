-- What a question about heat and humidity needs to know beside the measures of an enclosure: how thick its walls are, how
-- much of a mesh lid is covered, what it stands on, how deep the substrate and how wide the bowl is, what the heater
-- holds by night, and the room by night and through the year. All may stay unknown, so records written before are as
-- they were, and so are their hashes. And what a log of temperatures said about an enclosure is kept as a record of its
-- own, so that later answers can rest on it and it can be taken back.

alter table enclosure add column thickness_mm real check (0 < thickness_mm);
alter table enclosure add column lid_covered_pct real check (lid_covered_pct between 0 and 100);
alter table enclosure add column stands_on text check (stands_on in ('shelf', 'foam', 'other'));
alter table enclosure add column substrate_cm real check (0 <= substrate_cm);
alter table enclosure add column bowl_cm real check (0 < bowl_cm);
alter table heater add column night_set_c real;
alter table household add column room_night_c real;
alter table household add column room_winter_c real;
alter table household add column room_summer_c real;
alter table household add column room_pct real check (room_pct between 0 and 100);

drop view current_enclosure;
create view current_enclosure as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.name, t.room, t.walk, t.length_cm, t.width_cm, t.height_cm, t.material, t.lid, t.substrate, t.hides,
    t.humid_hide, t.cohabitants, t.locks, t.gaps, t.floor_wet,
    t.thickness_mm, t.lid_covered_pct, t.stands_on, t.substrate_cm, t.bowl_cm
from current_record as r join enclosure as t on t.seq = r.seq
where r.kind = 'enclosure';

drop view current_household;
create view current_household as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.other_reptiles, t.quarantine_from, t.contacts_sick, t.young_children, t.region, t.room_c,
    t.room_night_c, t.room_winter_c, t.room_summer_c, t.room_pct
from current_record as r join household as t on t.seq = r.seq
where r.kind = 'household';

drop view current_heater;
create view current_heater as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.kind, t.watts, t.thermostat, t.set_c, t.guarded, t.inside, t.probe,
    t.night_set_c
from current_record as r join heater as t on t.seq = r.seq
where r.kind = 'heater';

insert into record_kind (kind, says) values ('fitted', 'What a log of temperatures said about an enclosure.');

-- What a log of temperatures said about an enclosure: two halves, each value with its standard deviation in % of itself.
create table fitted (
    seq integer primary key references record (seq),
    at text not null,
    "from" text not null,
    warm_to_room_w_k real not null check (0 < warm_to_room_w_k),
    warm_to_room_w_k_sd_pct real not null check (0 <= warm_to_room_w_k_sd_pct),
    cool_to_room_w_k real not null check (0 < cool_to_room_w_k),
    cool_to_room_w_k_sd_pct real not null check (0 <= cool_to_room_w_k_sd_pct),
    warm_to_cool_w_k real not null check (0 < warm_to_cool_w_k),
    warm_to_cool_w_k_sd_pct real not null check (0 <= warm_to_cool_w_k_sd_pct),
    warm_kj_k real not null check (0 < warm_kj_k),
    warm_kj_k_sd_pct real not null check (0 <= warm_kj_k_sd_pct),
    cool_kj_k real not null check (0 < cool_kj_k),
    cool_kj_k_sd_pct real not null check (0 <= cool_kj_k_sd_pct),
    heater_share real not null check (heater_share between 0 and 1),
    heater_share_sd_pct real not null check (0 <= heater_share_sd_pct),
    watts real not null check (0 < watts),
    rms_k real not null check (0 <= rms_k),
    log_rows integer not null check (1 <= log_rows)
) strict;

create view current_fitted as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t."from", t.warm_to_room_w_k, t.warm_to_room_w_k_sd_pct, t.cool_to_room_w_k,
    t.cool_to_room_w_k_sd_pct, t.warm_to_cool_w_k, t.warm_to_cool_w_k_sd_pct, t.warm_kj_k, t.warm_kj_k_sd_pct,
    t.cool_kj_k, t.cool_kj_k_sd_pct, t.heater_share, t.heater_share_sd_pct, t.watts, t.rms_k, t.log_rows
from current_record as r join fitted as t on t.seq = r.seq
where r.kind = 'fitted';

create trigger fitted_stays before update on fitted begin select raise(abort, 'records are never changed: write a correction'); end;
create trigger fitted_remains before delete on fitted begin select raise(abort, 'records are never deleted: write a removal'); end;
create trigger fitted_is_next before insert on fitted
when new.seq is not (select max(seq) from record)
    or (select kind from record where seq = new.seq) is not 'fitted'
    or exists (select 1 from fitted where seq = new.seq)
begin select raise(abort, 'the fields of a record are written once, with its head'); end;
