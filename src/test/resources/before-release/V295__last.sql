create table of_that_time (id uuid primary key);
