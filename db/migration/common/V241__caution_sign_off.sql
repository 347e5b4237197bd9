-- Where a cell of the caution table comes from, and who signed it off here, are two things. Cells signed off before names
-- were recorded stay signed off and are due for review.
alter table caution_cell add column source_mark varchar;
alter table caution_cell add column signed_name varchar;
alter table caution_cell add column signed_role varchar;
alter table caution_cell add column signed_on date;
alter table caution_cell add column review_by date;
update caution_cell set source_mark = case when mark = 'signed_off' then 'changed_here' else mark end;
update caution_cell set signed_name = '-', signed_role = '-' where mark = 'signed_off';
alter table caution_cell drop column mark;
alter table caution_cell alter column source_mark set not null;
