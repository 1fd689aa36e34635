-- The score of a body by eye belongs beside its weight: a mass alone does not tell thin from small. It may stay unknown,
-- so records written before are as they were, and so are their hashes.

alter table weighing add column body_score integer check (body_score between 1 and 9);

drop view current_weighing;
create view current_weighing as
select r.seq, r.id, r.story, r.animal_id, r.enclosure_id, r.happened, r.happened_from_s, r.happened_to_s, r.zone,
    r.recorded_at_s, r.recorded_by,
    t.at, t.mass_g, t.estimated, t.body_score
from current_record as r join weighing as t on t.seq = r.seq
where r.kind = 'weighing';
