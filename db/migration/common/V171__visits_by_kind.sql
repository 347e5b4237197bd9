-- The latest visits of a kind are read without passing over those of all others.
create index visit_by_kind on visit (clinic_id, method_planned, ears, visit_date);
