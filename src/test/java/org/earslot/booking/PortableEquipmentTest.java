package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.UNIT_TAKEN;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult.Done;
import org.earslot.clinic.kit.Kit;
import org.earslot.clinic.kit.KitUnit;
import org.earslot.clinic.kit.KitUnits;
import org.earslot.clinic.policy.Policies;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.kit.KitForecast;
import org.earslot.offers.Offer;
import org.earslot.offers.SlotWish;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.offers.Slots;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;

/** A movable unit serves one room at a time, so no booking and no offer counts on one that is elsewhere. */
@PageTest
class PortableEquipmentTest {

    @Autowired
    private Kit kit;

    @Autowired
    private KitUnits units;

    @Autowired
    private KitForecast forecast;

    @Autowired
    private Booking booking;

    @Autowired
    private Slots slots;

    @Autowired
    private Policies policies;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void tuesday_nine_o_clock() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
    }

    /** The other room's visit takes 10:00 to 10:30; the edges are free. */
    @ParameterizedTest
    @CsvSource({"09:30, true", "09:35, false", "10:00, false", "10:25, false", "10:30, true"})
    void one_unit_serves_one_room_at_a_time(LocalTime start, boolean booked) {
        unit("Suction on wheels", null);
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        BookingResult result = book(Method.MICROSUCTION, second(start));
        if (booked) {
            assertThat(result).isInstanceOf(Done.class);
        } else {
            assertThat(result)
                    .isEqualTo(BookingResult.refused(
                            BookingRefusal.unitTaken(WEDNESDAY, start, "Suction on wheels", LocalTime.of(10, 30))));
        }
    }

    @Test
    void a_clinic_that_counts_no_units_sets_no_limit() {
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        assertThat(book(Method.MICROSUCTION, second(LocalTime.of(10, 0)))).isInstanceOf(Done.class);
    }

    @Test
    void another_method_s_unit_and_one_that_only_helps_set_no_limit() {
        kit.unit(clinic.id(), Optional.empty(), "Irrigator", Method.IRRIGATION, null, true);
        kit.unit(clinic.id(), Optional.empty(), "Microscope", null, null, true);
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        assertThat(book(Method.MICROSUCTION, second(LocalTime.of(10, 0)))).isInstanceOf(Done.class);
    }

    @Test
    void a_second_unit_or_one_of_the_room_s_own_serves_the_second_room() {
        for (UUID room : new UUID[] {null, clinic.r1(), clinic.r2()}) {
            clinic = room == null ? clinic : clinics.open();
            unit("Suction on wheels", null);
            unit("Another", room == null ? null : room.equals(clinic.r1()) ? clinic.r1() : clinic.r2());
            fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            assertThat(book(Method.MICROSUCTION, second(LocalTime.of(10, 10)))).isInstanceOf(Done.class);
        }
    }

    @Test
    void a_unit_out_of_use_serves_nobody() {
        unit("Suction on wheels", null);
        unit("Old suction", null);
        UUID old = units.findByClinicIdAndName(clinic.id(), "Old suction")
                .orElseThrow()
                .id();
        kit.unit(clinic.id(), Optional.of(old), "Old suction", Method.MICROSUCTION, null, false);
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        assertThat(refused(book(Method.MICROSUCTION, second(LocalTime.of(10, 0)))))
                .extracting(BookingRefusal::why)
                .isEqualTo(UNIT_TAKEN);
    }

    /** None in use is not the same as none counted: what needs one is refused, not offered, and shown as short. */
    @Test
    void with_every_unit_out_of_use_nothing_that_needs_one_is_booked_or_offered() {
        unit("Suction on wheels", null);
        UUID before = booked(Method.MICROSUCTION, second(LocalTime.of(10, 0)));
        assertThat(forecast.on(clinic.id(), WEDNESDAY).reaches()).isTrue();
        inUse("Suction on wheels", false);
        assertThat(forecast.on(clinic.id(), WEDNESDAY).withoutUnit())
                .singleElement()
                .satisfies(without -> {
                    assertThat(without.method()).isEqualTo(Method.MICROSUCTION);
                    assertThat(without.first()).isEqualTo(LocalTime.of(10, 0));
                    assertThat(without.appointmentIds()).containsExactly(before);
                });
        assertThat(forecast.ahead(clinic.id())).hasSize(1);
        assertThat(book(Method.MICROSUCTION, second(LocalTime.of(12, 0))))
                .isEqualTo(BookingResult.refused(
                        BookingRefusal.unitOutOfUse(WEDNESDAY, LocalTime.of(12, 0), "Suction on wheels")));
        assertThat(offers(fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH)))
                .isEmpty();
        assertThat(book(Method.IRRIGATION, fixture.place(clinic, WEDNESDAY.atTime(12, 0), 30)))
                .isInstanceOf(Done.class);
        inUse("Suction on wheels", true);
        assertThat(forecast.ahead(clinic.id())).isEmpty();
        assertThat(book(Method.MICROSUCTION, second(LocalTime.of(14, 0)))).isInstanceOf(Done.class);
    }

    /** A room whose own unit is out of use is not served by one that stands in another room. */
    @Test
    void a_room_whose_own_unit_is_out_of_use_needs_another() {
        unit("First room's", clinic.r1());
        unit("Second room's", clinic.r2());
        inUse("Second room's", false);
        assertThat(refused(book(Method.MICROSUCTION, second(LocalTime.of(10, 0)))))
                .isEqualTo(BookingRefusal.unitOutOfUse(WEDNESDAY, LocalTime.of(10, 0), "Second room's"));
        unit("On wheels", null);
        assertThat(book(Method.MICROSUCTION, second(LocalTime.of(10, 0)))).isInstanceOf(Done.class);
    }

    private void inUse(String name, boolean inUse) {
        KitUnit unit = units.findByClinicIdAndName(clinic.id(), name).orElseThrow();
        kit.unit(
                clinic.id(),
                Optional.of(unit.id()),
                name,
                Method.MICROSUCTION,
                unit.roomId().orElse(null),
                inUse);
    }

    @Test
    void says_from_when_a_unit_is_free_for_the_whole_visit() {
        unit("Suction on wheels", null);
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 40), 20);
        assertThat(refused(book(Method.MICROSUCTION, second(LocalTime.of(10, 0)))))
                .isEqualTo(BookingRefusal.unitTaken(
                        WEDNESDAY, LocalTime.of(10, 0), "Suction on wheels", LocalTime.of(11, 0)));
    }

    @Test
    void a_cancelled_visit_gives_its_unit_free() {
        unit("Suction on wheels", null);
        UUID first = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        assertThat(book(Method.MICROSUCTION, second(LocalTime.of(10, 0)))).isNotInstanceOf(Done.class);
        booking.cancel(clinic.id(), first, 0, CancelledBy.PATIENT, "ill");
        assertThat(book(Method.MICROSUCTION, second(LocalTime.of(10, 0)))).isInstanceOf(Done.class);
    }

    @Test
    void a_fit_in_holds_no_unit_and_is_not_refused_for_one() {
        unit("Suction on wheels", null);
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        assertThat(booking.book(
                        clinic.id(),
                        new OfFitIn(referral.id(), null, null, null, "in pain", second(LocalTime.of(10, 0))),
                        "receptionist"))
                .isInstanceOf(Done.class);
        assertThat(forecast.on(clinic.id(), WEDNESDAY).clashes()).hasSize(1);
        assertThat(book(Method.MICROSUCTION, second(LocalTime.of(11, 0)))).isInstanceOf(Done.class);
    }

    @Test
    void a_clash_that_stood_before_stays_shown_and_is_not_moved_into_another() {
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        UUID clashing = booked(Method.MICROSUCTION, second(LocalTime.of(10, 0)));
        fixture.appointment(clinic, WEDNESDAY.atTime(14, 0), 30);
        unit("Suction on wheels", null);
        assertThat(forecast.on(clinic.id(), WEDNESDAY).clashes()).hasSize(1);
        // The same room within the same time: nothing new is asked of the unit.
        assertThat(booking.move(clinic.id(), clashing, 0, second(LocalTime.of(10, 0), 20)))
                .isInstanceOf(Done.class);
        assertThat(refused(booking.move(clinic.id(), clashing, 1, second(LocalTime.of(14, 0)))))
                .extracting(BookingRefusal::why)
                .isEqualTo(UNIT_TAKEN);
        assertThat(booking.move(clinic.id(), clashing, 1, second(LocalTime.of(11, 0))))
                .isInstanceOf(Done.class);
        assertThat(forecast.on(clinic.id(), WEDNESDAY).clashes()).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void offers_no_place_whose_unit_is_elsewhere_and_each_of_them_can_be_booked(boolean wholeList) {
        policies.findById(clinic.id()).ifPresent(policy -> {
            policy.offerByWholeList(wholeList);
            policies.save(policy);
        });
        unit("Suction on wheels", null);
        for (int hour : new int[] {9, 10, 12, 14, 15}) {
            fixture.appointment(clinic, WEDNESDAY.atTime(hour, 20), 40);
        }
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        List<Offer> offers = offers(referral);
        assertThat(offers).isNotEmpty();
        for (Offer offer : offers) {
            BookingResult result =
                    booking.book(clinic.id(), new OfReferral(referral.id(), offer.place()), "receptionist");
            assertThat(result)
                    .as("%s, %d min", offer.place().start(), offer.slotMinutes())
                    .isInstanceOf(Done.class);
            booking.enterInError(clinic.id(), ((Done) result).appointmentId(), 0);
        }
    }

    private List<Offer> offers(Referral referral) {
        SlotWish wish =
                new SlotWish(referral.id(), null, WEDNESDAY, WEDNESDAY, clinic.p2(), PartOfDay.ANY, Slots.MOST_OFFERS);
        return ((Offers) slots.search(clinic.id(), wish)).best();
    }

    private void unit(String name, @Nullable UUID room) {
        assertThat(kit.unit(clinic.id(), Optional.empty(), name, Method.MICROSUCTION, room, true))
                .isEmpty();
    }

    private BookingResult book(Method method, AskedPlace place) {
        Referral referral = fixture.referral(clinic, method, Ears.BOTH);
        return booking.book(clinic.id(), new OfReferral(referral.id(), place), "receptionist");
    }

    private UUID booked(Method method, AskedPlace place) {
        return ((Done) book(method, place)).appointmentId();
    }

    private static BookingRefusal refused(BookingResult result) {
        return ((BookingResult.NotDone) result).refusals().get(0);
    }

    private AskedPlace second(LocalTime start) {
        return second(start, 30);
    }

    private AskedPlace second(LocalTime start, int minutes) {
        LocalDateTime at = WEDNESDAY.atTime(start);
        return fixture.secondPlace(clinic, at, minutes);
    }
}
