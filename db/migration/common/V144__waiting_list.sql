-- Who can come at short notice, and the rules of the waiting list.
alter table referral add column short_notice varchar default 'not_known' not null check (short_notice in ('yes', 'no', 'not_known'));
alter table referral_policy add column did_not_attend_limit integer default 2 not null check (did_not_attend_limit between 0 and 9);
alter table referral_policy add column short_notice_days integer default 2 not null check (short_notice_days between 0 and 28);
