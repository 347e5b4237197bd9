-- What was ticked in the room: codes joined by semicolons, null where nothing was.
alter table visit add column checks text;
