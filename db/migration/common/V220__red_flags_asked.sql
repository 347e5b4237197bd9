-- "Not known" is an answer; a red flag that was not asked has none. What a clinician decided with flags unasked is stored.
alter table referral add column red_flags_not_known varchar;
alter table red_flag_case add column flags_not_known varchar;
alter table red_flag_case add column flags_unasked varchar;

-- Not yet booked, without a clinician's word, and not asked the whole list of that time: the questions come first.
-- Those that answered that whole list with no stay ready; what was added to the list since is asked at check-in.
update referral
set after_triage = status, status = 'to_triage'
where status in ('ready_to_book', 'waiting')
    and coalesce(red_flags_no, '') <> 'button_battery;head_injury;loss_with_droop;new_vertigo;sudden_loss_earlier;sudden_loss_recent;swelling_behind_ear;weak_immunity'
    and not exists (select 1 from red_flag_case where red_flag_case.referral_id = referral.id and red_flag_case.settled_as = 'cleared');
