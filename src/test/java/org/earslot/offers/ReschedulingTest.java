package org.earslot.offers;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;
import static org.earslot.booking.BookingRefusalCode.IN_THE_PAST;
import static org.earslot.booking.BookingRefusalCode.PATIENT_NOT_ASKED;
import static org.earslot.booking.BookingRefusalCode.RED_FLAG_OPEN;
import static org.earslot.booking.BookingRefusalCode.RED_FLAG_TO_BE_SEEN;
import static org.earslot.booking.BookingRefusalCode.SLOT_TAKEN;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;

import java.time.Instant;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.BookingResult.Rearranged;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.Sessions;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedules;
import org.earslot.ear.Answer;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

/** A day improved as a whole: looked at first, made by all the rules of a booking, undone. */
class ReschedulingTest {

    abstract static class Morning {
        @Autowired
        private Rescheduling rescheduling;

        @Autowired
        private RescheduleProposals rescheduleProposals;

        @Autowired
        private MoveEffects effects;

        @Autowired
        private Booking booking;

        @Autowired
        private Appointments appointments;

        @Autowired
        private Sessions sessions;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private DiaryFixture fixture;

        @Autowired
        private SettableClock clock;

        @Autowired
        private Intake intake;

        @Autowired
        private RedFlagTriage triage;

        @Autowired
        private OpenRedFlags openRedFlags;

        @Autowired
        private Referrals referrals;

        @Autowired
        private JdbcTemplate jdbc;

        private TestClinic clinic;

        @BeforeEach
        void tuesday_nine_o_clock() {
            clock.set(Instant.parse("2026-03-03T09:00:00Z"));
            clinic = clinics.open();
        }

        @Test
        void two_visits_change_places_and_go_back() {
            UUID first = booked("10:00", 30);
            UUID second = booked("10:30", 20);
            BookingResult made = swap(first, "10:20", 30, second, "10:00", 20);
            assertThat(made).isInstanceOf(Rearranged.class);
            assertThat(start(first)).isEqualTo("10:20");
            assertThat(start(second)).isEqualTo("10:00");
            assertThat(appointment(first).holdsPlace()).isTrue();
            assertThat(audited(first, "appointment-moved")).isEqualTo(1);
            BookingResult undone = rescheduling.undo(clinic.id(), ((Rearranged) made).rearrangementId(), false, "desk");
            assertThat(undone).isInstanceOf(Rearranged.class);
            assertThat(start(first)).isEqualTo("10:00");
            assertThat(start(second)).isEqualTo("10:30");
            assertThat(appointment(second).place().slotMinutes()).isEqualTo(20);
            assertThat(rescheduling.undo(clinic.id(), ((Rearranged) made).rearrangementId(), false, "desk"))
                    .isEqualTo(BookingResult.refused(CHANGED_MEANWHILE));
        }

        @Test
        void a_confirmed_start_is_moved_only_once_the_patient_was_asked() {
            UUID first = booked("10:00", 30);
            booking.confirm(clinic.id(), first, appointment(first).version());
            assertThat(move(first, WEDNESDAY.atTime(14, 0), false)).isEqualTo(BookingResult.refused(PATIENT_NOT_ASKED));
            BookingResult made = move(first, WEDNESDAY.atTime(14, 0), true);
            assertThat(start(first)).isEqualTo("14:00");
            assertThat(appointment(first).confirmed()).isTrue();
            UUID id = ((Rearranged) made).rearrangementId();
            assertThat(rescheduling.undo(clinic.id(), id, false, "desk"))
                    .isEqualTo(BookingResult.refused(PATIENT_NOT_ASKED));
            assertThat(rescheduling.undo(clinic.id(), id, true, "desk")).isInstanceOf(Rearranged.class);
            assertThat(start(first)).isEqualTo("10:00");
            assertThat(appointment(first).confirmed()).isTrue();
        }

        @Test
        void all_of_a_change_is_made_or_nothing() {
            UUID first = booked("10:00", 30);
            UUID second = booked("10:30", 30);
            booked("11:00", 30);
            assertThat(swap(first, "12:00", 30, second, "11:00", 30)).isEqualTo(BookingResult.refused(SLOT_TAKEN));
            assertThat(swap(first, "12:00", 30, second, "16:45", 30))
                    .isEqualTo(BookingResult.refused(BookingRefusal.outsideSession(
                            WEDNESDAY, time("16:45").toLocalTime(), 30)));
            assertThat(start(first)).isEqualTo("10:00");
            assertThat(appointment(first).holdsPlace()).isTrue();
            assertThat(start(second)).isEqualTo("10:30");
        }

        @Test
        void what_was_changed_meanwhile_or_elsewhere_is_not_touched() {
            UUID first = booked("10:00", 30);
            Move stale = shift(first, WEDNESDAY.atTime(14, 0), 30, false);
            booking.confirm(clinic.id(), first, appointment(first).version());
            assertThat(rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.MOVE, List.of(stale), "desk"))
                    .isEqualTo(BookingResult.refused(CHANGED_MEANWHILE));
            TestClinic other = clinics.open();
            Move foreign = shift(first, WEDNESDAY.atTime(14, 0), 30, true);
            assertThat(rescheduling.apply(other.id(), WEDNESDAY, DayFix.MOVE, List.of(foreign), "desk"))
                    .isEqualTo(BookingResult.refused(BookingRefusal.unknown("appointment")));
            BookingResult made = move(first, WEDNESDAY.atTime(14, 0), true);
            UUID id = ((Rearranged) made).rearrangementId();
            assertThat(rescheduling.undo(other.id(), id, true, "desk"))
                    .isEqualTo(BookingResult.refused(BookingRefusal.unknown("change")));
            booking.move(
                    clinic.id(),
                    first,
                    appointment(first).version(),
                    fixture.place(clinic, WEDNESDAY.atTime(15, 0), 30));
            assertThat(rescheduling.undo(clinic.id(), id, true, "desk"))
                    .isEqualTo(BookingResult.refused(CHANGED_MEANWHILE));
        }

        @Test
        void nothing_goes_back_to_a_start_that_is_over() {
            UUID first = booked("10:00", 30);
            UUID id = ((Rearranged) move(first, WEDNESDAY.atTime(14, 0), false)).rearrangementId();
            clock.set(Instant.parse("2026-03-04T10:30:00Z"));
            NotDone no = (NotDone) rescheduling.undo(clinic.id(), id, false, "desk");
            assertThat(no.only(IN_THE_PAST)).isTrue();
        }

        @Test
        void retiming_a_crowded_list_betters_it_and_keeps_the_confirmed() {
            List<UUID> ids = crowded();
            booking.confirm(clinic.id(), ids.get(3), appointment(ids.get(3)).version());
            List<Move> shifts = rescheduleProposals.retime(clinic.id(), WEDNESDAY, key());
            assertThat(shifts).isNotEmpty();
            assertThat(shifts).noneMatch(shift -> shift.appointmentId().equals(ids.get(3)));
            MoveEffect effect = effects.of(clinic.id(), shifts);
            assertThat(effect.lists()).hasSize(1);
            assertThat(effect.waitThen()).isLessThan(effect.waitBefore() - 5);
            assertThat(effect.moved()).hasSameSizeAs(shifts);
            BookingResult made = rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.RETIME, shifts, "desk");
            assertThat(made).isInstanceOf(Rearranged.class);
            assertThat(start(ids.get(3))).isEqualTo("09:45");
        }

        @Test
        void no_fix_makes_a_session_end_late_more_often_than_is_accepted() {
            for (int i = 0; i < 12; i++) {
                booked(time("13:30").plusMinutes(15L * i), 15);
            }
            booked(time("16:30"), 30);
            for (List<Move> shifts : List.of(
                    rescheduleProposals.retime(clinic.id(), WEDNESDAY, key()),
                    rescheduleProposals.swap(clinic.id(), WEDNESDAY, key()))) {
                effects.of(clinic.id(), shifts)
                        .lists()
                        .forEach(list -> assertThat(list.then().pastEnd())
                                .isLessThan(Math.max(0.20, list.before().pastEnd()) + 0.01));
            }
        }

        @Test
        void the_effect_shown_is_what_the_day_then_says() {
            crowded();
            List<Move> shifts = rescheduleProposals.retime(clinic.id(), WEDNESDAY, key());
            MoveEffect effect = effects.of(clinic.id(), shifts);
            rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.RETIME, shifts, "desk");
            double now = diary().lane(clinic.p1()).orElseThrow().seen().stream()
                    .mapToDouble(DaySchedule.Line::waitMinutes)
                    .sum();
            assertThat(now).isCloseTo(effect.waitThen(), org.assertj.core.data.Offset.offset(1e-9));
        }

        @Test
        void the_swap_proposed_betters_the_list_and_can_be_made() {
            UUID wide = fixture.appointment(
                    clinic,
                    fixture.referral(clinic, org.earslot.ear.Method.MANUAL_REMOVAL, org.earslot.ear.Ears.BOTH),
                    fixture.place(clinic, time("09:00"), 20));
            for (int i = 0; i < 5; i++) {
                fixture.appointment(
                        clinic,
                        fixture.referral(clinic, org.earslot.ear.Method.MICROSUCTION, org.earslot.ear.Ears.RIGHT),
                        fixture.place(clinic, time("09:20").plusMinutes(20L * i), 20));
            }
            List<Move> shifts = rescheduleProposals.swap(clinic.id(), WEDNESDAY, key());
            assertThat(shifts)
                    .hasSize(2)
                    .anyMatch(shift -> shift.appointmentId().equals(wide));
            MoveEffect effect = effects.of(clinic.id(), shifts);
            assertThat(effect.waitThen()).isLessThan(effect.waitBefore());
            assertThat(rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.SWAP, shifts, "desk"))
                    .isInstanceOf(Rearranged.class);
        }

        @Test
        void an_offer_moves_one_out_and_both_lists_say_what_it_does() {
            List<UUID> ids = crowded();
            List<UUID> toMove = rescheduleProposals.toMove(clinic.id(), WEDNESDAY, key());
            assertThat(toMove).containsExactlyInAnyOrderElementsOf(ids);
            Appointment one = appointment(toMove.get(0));
            List<Move> offers = rescheduleProposals.offers(clinic.id(), one, 4);
            assertThat(offers).isNotEmpty();
            MoveEffect effect = effects.of(clinic.id(), List.of(offers.get(0)));
            assertThat(effect.lists()).hasSize(2);
            assertThat(rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.MOVE, List.of(offers.get(0)), "desk"))
                    .isInstanceOf(Rearranged.class);
            assertThat(appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinic.id(), WEDNESDAY))
                    .hasSize(ids.size() - 1);
        }

        @Test
        void a_list_that_has_begun_is_not_retimed() {
            List<UUID> ids = crowded();
            clock.set(Instant.parse("2026-03-04T09:05:00Z"));
            jdbc.update("update appointment set status = 'arrived' where id = ?", ids.get(0));
            assertThat(rescheduleProposals.retime(clinic.id(), WEDNESDAY, key()))
                    .isEmpty();
            assertThat(rescheduleProposals.retime(clinic.id(), WEDNESDAY, "no such session"))
                    .isEmpty();
        }

        @Test
        void a_case_opened_after_the_proposal_stops_the_whole_change() {
            List<UUID> ids = crowded();
            List<Move> shifts = rescheduleProposals.retime(clinic.id(), WEDNESDAY, key());
            UUID flagged = shifts.get(0).appointmentId();
            RedFlagCase open = raise(flagged);
            BookingResult refused = rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.RETIME, shifts, "desk");
            assertThat(((NotDone) refused).only(RED_FLAG_OPEN)).isTrue();
            for (int i = 0; i < ids.size(); i++) {
                assertThat(start(ids.get(i)))
                        .isEqualTo(
                                time("09:00").plusMinutes(15L * i).toLocalTime().toString());
            }
            triage.clear(referral(flagged), "years ago", "p1");
            assertThat(openRedFlags.of(clinic.id(), referral(flagged).patientId()))
                    .isEmpty();
            assertThat(open.referralId()).isEqualTo(referral(flagged).id());
            assertThat(rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.RETIME, shifts, "desk"))
                    .isInstanceOf(Rearranged.class);
        }

        @Test
        void no_proposal_moves_one_whose_red_flag_is_open_decided_or_not_and_names_who_is_left_out() {
            List<UUID> ids = crowded();
            UUID undecided = ids.get(2);
            UUID toBeSeen = ids.get(5);
            raise(undecided);
            raise(toBeSeen);
            triage.seeHere(referral(toBeSeen), "I look", "p1");
            assertThat(rescheduleProposals.leftOut(clinic.id(), WEDNESDAY, key()))
                    .containsExactly(undecided, toBeSeen);
            assertThat(rescheduleProposals.toMove(clinic.id(), WEDNESDAY, key()))
                    .hasSize(6)
                    .doesNotContain(undecided, toBeSeen);
            List<Move> retimed = rescheduleProposals.retime(clinic.id(), WEDNESDAY, key());
            assertThat(retimed).isNotEmpty();
            assertThat(retimed).extracting(Move::appointmentId).doesNotContain(undecided, toBeSeen);
            assertThat(rescheduleProposals.swap(clinic.id(), WEDNESDAY, key()))
                    .extracting(Move::appointmentId)
                    .doesNotContain(undecided, toBeSeen);
            for (UUID id : List.of(undecided, toBeSeen)) {
                assertThat(rescheduleProposals.offers(clinic.id(), appointment(id), 4))
                        .isEmpty();
            }
        }

        @Test
        void one_whom_a_clinician_sees_here_is_not_moved_along_but_by_itself() {
            UUID first = booked("10:00", 30);
            raise(first);
            assertThat(((NotDone) move(first, WEDNESDAY.plusWeeks(1).atTime(14, 0), true)).only(RED_FLAG_OPEN))
                    .isTrue();
            triage.seeHere(referral(first), "I look", "p1");
            assertThat(move(first, WEDNESDAY.plusWeeks(1).atTime(14, 0), true))
                    .isEqualTo(BookingResult.refused(RED_FLAG_TO_BE_SEEN));
            assertThat(start(first)).isEqualTo("10:00");
            assertThat(booking.move(
                            clinic.id(),
                            first,
                            appointment(first).version(),
                            fixture.place(clinic, WEDNESDAY.atTime(9, 0), 30)))
                    .isInstanceOf(BookingResult.Done.class);
        }

        @Test
        void a_change_is_not_taken_back_for_one_whose_red_flag_was_opened_since() {
            UUID first = booked("14:00", 30);
            UUID id = ((Rearranged) move(first, WEDNESDAY.atTime(10, 0), false)).rearrangementId();
            raise(first);
            assertThat(rescheduling.undoable(clinic.id(), WEDNESDAY)).hasSize(1);
            assertThat(((NotDone) rescheduling.undo(clinic.id(), id, true, "desk")).only(RED_FLAG_OPEN))
                    .isTrue();
            assertThat(start(first)).isEqualTo("10:00");
        }

        private RedFlagCase raise(UUID appointmentId) {
            return intake.answerRedFlags(
                            referral(appointmentId),
                            new RedFlagAnswers(Map.of(RedFlag.SUDDEN_LOSS_RECENT, Answer.YES), null),
                            new Taker("r", null))
                    .orElseThrow();
        }

        private Referral referral(UUID appointmentId) {
            return referrals
                    .findByClinicIdAndId(
                            clinic.id(), appointment(appointmentId).referralId().orElseThrow())
                    .orElseThrow();
        }

        private List<UUID> crowded() {
            List<UUID> ids = new ArrayList<>();
            for (int i = 0; i < 8; i++) {
                ids.add(booked(time("09:00").plusMinutes(15L * i), 15));
            }
            return ids;
        }

        private String key() {
            return sessions.on(clinic.id(), WEDNESDAY).stream()
                    .filter(session -> session.practitionerId().equals(clinic.p1()))
                    .findFirst()
                    .orElseThrow()
                    .key();
        }

        @Autowired
        private DaySchedules diaries;

        private DaySchedule diary() {
            return diaries.of(clinic.id(), WEDNESDAY);
        }

        private BookingResult swap(UUID a, String toA, int slotA, UUID b, String toB, int slotB) {
            return rescheduling.apply(
                    clinic.id(),
                    WEDNESDAY,
                    DayFix.SWAP,
                    List.of(shift(a, time(toA), slotA, false), shift(b, time(toB), slotB, false)),
                    "desk");
        }

        private BookingResult move(UUID id, LocalDateTime to, boolean asked) {
            return rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.MOVE, List.of(shift(id, to, 30, asked)), "desk");
        }

        private Move shift(UUID id, LocalDateTime to, int slot, boolean asked) {
            return new Move(id, appointment(id).version(), fixture.place(clinic, to, slot), asked);
        }

        private UUID booked(String start, int slot) {
            return booked(time(start), slot);
        }

        private UUID booked(LocalDateTime start, int slot) {
            return fixture.appointment(clinic, start, slot);
        }

        private static LocalDateTime time(String time) {
            return LocalDateTime.parse(WEDNESDAY + "T" + time);
        }

        private Appointment appointment(UUID id) {
            return appointments.findById(id).orElseThrow();
        }

        private String start(UUID id) {
            return appointment(id).place().start().toString().substring(11, 16);
        }

        private int audited(UUID id, String action) {
            Integer count = jdbc.queryForObject(
                    "select count(*) from audit_entry where subject_id = ? and action = ?",
                    Integer.class,
                    id.toString(),
                    action);
            return count == null ? 0 : count;
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Morning {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Morning {}
}
