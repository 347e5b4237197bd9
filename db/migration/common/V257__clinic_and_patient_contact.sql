-- How a clinic is reached, for its letters; and whether a patient may be written to.
alter table clinic add column phone varchar;
alter table clinic add column address varchar;
alter table clinic add column opening_hours varchar;
alter table patient add column correspondence varchar default 'usual' not null check (correspondence in ('usual', 'no_recall', 'moved', 'deceased'));
