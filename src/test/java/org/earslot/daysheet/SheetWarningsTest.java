package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.DiaryFixture;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.clinic.kit.InstrumentKinds;
import org.earslot.clinic.kit.InstrumentSets;
import org.earslot.clinic.kit.Kit;
import org.earslot.clinic.kit.SetRounds;
import org.earslot.clinic.kit.StockItems;
import org.earslot.daysheet.DaySheet.Sheet;
import org.earslot.daysheet.DaySheet.Warning;
import org.earslot.daysheet.DaySheet.Warning.CautionWorse;
import org.earslot.daysheet.DaySheet.Warning.Contraindicated;
import org.earslot.daysheet.DaySheet.Warning.SetsShort;
import org.earslot.daysheet.DaySheet.Warning.StockLow;
import org.earslot.daysheet.DaySheet.Warning.StockNotCounted;
import org.earslot.daysheet.DaySheet.Warning.UnitElsewhere;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Origin;
import org.earslot.referral.Overriding;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** What the morning's sheet says of kit, and of cautions judged worse than when the visit was booked. */
@PageTest
class SheetWarningsTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final LocalDate DAY = DiaryFixture.WEDNESDAY;

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private DaySheets sheets;

    @Autowired
    private Kit kit;

    @Autowired
    private SetRounds rounds;

    @Autowired
    private InstrumentKinds kinds;

    @Autowired
    private InstrumentSets sets;

    @Autowired
    private StockItems stock;

    @Autowired
    private Booking booking;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Overriding overriding;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void opensAClinic() {
        clock.set(Instant.parse("2026-03-03T08:00:00Z"));
        clinic = clinics.open();
    }

    @Test
    void names_sets_that_run_short_on_the_sheet_of_whoever_uses_them() throws Exception {
        kit.kind(clinic.id(), "Tray", Method.MANUAL_REMOVAL, 1, 40, 10);
        book(Method.MANUAL_REMOVAL, diary.place(clinic, DAY.plusWeeks(3).atTime(10, 0), 30));
        book(Method.MANUAL_REMOVAL, diary.place(clinic, DAY.plusWeeks(3).atTime(10, 30), 30));
        book(Method.MICROSUCTION, diary.secondPlace(clinic, DAY.plusWeeks(3).atTime(10, 0), 30));
        // one set, dirty at 10:30, in a cycle of 40 min until 11:10
        assertThat(warnings(DAY.plusWeeks(3), SetsShort.class)).singleElement().satisfies(one -> {
            assertThat(one.without()).isEqualTo(1);
            assertThat(one.first()).isEqualTo("10:30");
            assertThat(one.cleanAgain()).isEqualTo("11:10");
        });
        assertThat(sheet(DAY.plusWeeks(3), clinic.p2()).warnings()).noneMatch(SetsShort.class::isInstance);
        mvc.perform(get("/day/" + DAY.plusWeeks(3) + "/sheet").with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(content().string(containsString("Tray: 1 visit starts without a clean set")));
        book(Method.MICROSUCTION, diary.place(clinic, TODAY.atTime(16, 0), 30));
        mvc.perform(get("/day/" + TODAY + "/sheet").with(SignedIn.receptionist(clinic.id())))
                .andExpect(content().string(containsString("the kit will not reach on 1 day, first on Wed 25 Mar")));
    }

    @Test
    void goes_today_by_where_the_sets_are() {
        kit.kind(clinic.id(), "Tray", Method.MANUAL_REMOVAL, 2, 40, 10);
        UUID kind =
                kinds.findByClinicIdAndName(clinic.id(), "Tray").orElseThrow().id();
        UUID first = book(Method.MANUAL_REMOVAL, diary.place(clinic, TODAY.atTime(9, 30), 30));
        book(Method.MANUAL_REMOVAL, diary.place(clinic, TODAY.atTime(10, 0), 30));
        // both dirty at 8:00, the test cycle over at 9:10, clean at 9:50: the visit of 9:30 waits
        assertThat(warnings(TODAY, SetsShort.class)).singleElement().satisfies(one -> {
            assertThat(one.without()).isEqualTo(1);
            assertThat(one.cleanAgain()).isEqualTo("09:50");
        });
        rounds.startCycle(clinic.id(), kind, "1");
        assertThat(warnings(TODAY, SetsShort.class)).isEmpty();
        rounds.endCycle(clinic.id(), kind, true, "P1");
        UUID set = sets.findByClinicIdOrderByNumber(clinic.id()).get(0).id();
        assertThat(rounds.use(clinic.id(), set, first, "P1")).isTrue();
        assertThat(warnings(TODAY, SetsShort.class)).isEmpty();
        rounds.use(
                clinic.id(),
                sets.findByClinicIdOrderByNumber(clinic.id()).get(1).id(),
                first,
                "P1");
        // both laid out for the visit that ends at 10:00, dirty then, clean at 10:40: the visit of 10:00 has none
        assertThat(warnings(TODAY, SetsShort.class)).singleElement().satisfies(one -> {
            assertThat(one.first()).isEqualTo("10:00");
            assertThat(one.cleanAgain()).isEqualTo("10:40");
        });
    }

    @Test
    void says_whose_visit_finds_the_movable_unit_in_another_room_and_when_it_is_free() throws Exception {
        book(Method.MICROSUCTION, diary.place(clinic, DAY.atTime(10, 0), 30));
        UUID second = book(Method.MICROSUCTION, diary.secondPlace(clinic, DAY.atTime(10, 15), 30));
        // Counted only now: what was booked before stays, and is shown.
        kit.unit(clinic.id(), Optional.empty(), "Suction on wheels", Method.MICROSUCTION, null, true);
        assertThat(warnings(DAY, UnitElsewhere.class)).singleElement().satisfies(one -> {
            assertThat(one.appointment()).isEqualTo(second);
            assertThat(one.freeFrom()).isEqualTo("10:30");
        });
        mvc.perform(get("/day/" + DAY + "/sheet").with(SignedIn.lead(clinic.id())))
                .andExpect(
                        content().string(containsString("Suction on wheels is in another room then, free from 10:30")));
    }

    @Test
    void names_stock_that_is_low_or_not_counted_this_morning() throws Exception {
        kit.item(clinic.id(), "Tips", 20);
        book(Method.MICROSUCTION, diary.place(clinic, TODAY.atTime(10, 0), 30));
        assertThat(warnings(TODAY, StockNotCounted.class)).hasSize(1);
        assertThat(warnings(DAY, StockNotCounted.class)).isEmpty();
        UUID tips = stock.findByClinicIdOrderByName(clinic.id()).get(0).id();
        kit.count(clinic.id(), tips, 12, "desk");
        assertThat(warnings(TODAY, StockNotCounted.class)).isEmpty();
        assertThat(warnings(TODAY, StockLow.class)).hasSize(1);
        mvc.perform(get("/day/" + TODAY + "/sheet").with(SignedIn.receptionist(clinic.id())))
                .andExpect(content().string(containsString("Tips 12, at least 20 wanted")));
        kit.count(clinic.id(), tips, 20, "desk");
        assertThat(warnings(TODAY, StockLow.class)).isEmpty();
    }

    /** Healed perforation: contraindicated within 12 months, a precaution after; grommets and 6 weeks likewise expire. */
    @Test
    void warns_of_every_worsening_after_a_move() throws Exception {
        LocalDate since = DAY.minusWeeks(6).minusDays(1);
        UUID infection = diary.appointment(
                clinic,
                referral(Method.MICROSUCTION, new AskedCaution(Caution.MIDDLE_EAR_INFECTION, null, since.plusDays(7))),
                diary.place(clinic, DAY.plusDays(7).atTime(10, 0), 30));
        assertThat(warnings(DAY.plusDays(7), CautionWorse.class)).isEmpty();
        mvc.perform(get("/slots?appointment=" + infection + "&from=" + DAY + "&to=" + DAY)
                        .with(SignedIn.receptionist(clinic.id())))
                .andExpect(content()
                        .string(containsString("This method on that date: with precaution. Before: no known caution")));
        move(infection, diary.place(clinic, DAY.atTime(10, 0), 30));
        assertThat(warnings(DAY, CautionWorse.class)).singleElement().satisfies(one -> {
            assertThat(one.was().code()).isEqualTo("suitable");
            assertThat(one.now().code()).isEqualTo("precaution");
            assertThat(one.cautions()).containsExactly(Caution.MIDDLE_EAR_INFECTION);
        });
        mvc.perform(get("/day/" + DAY + "/sheet").with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(content()
                        .string(containsString("microsuction, when booked: no known caution; now: with precaution")));
        mvc.perform(get("/appointments/" + infection).with(SignedIn.receptionist(clinic.id())))
                .andExpect(content()
                        .string(containsString("This method now: with precaution. When booked: no known caution")));
        move(infection, diary.place(clinic, DAY.plusDays(8).atTime(10, 0), 30));
        assertThat(warnings(DAY.plusDays(8), CautionWorse.class)).isEmpty();
    }

    @Test
    void names_who_overrode_the_table_and_why_on_the_line_itself() throws Exception {
        Referral referral = referral(Method.IRRIGATION, new AskedCaution(Caution.PERFORATION, null, null));
        overriding.override(referral, Method.IRRIGATION, clinic.p1(), "drum seen whole on Monday", "p1");
        diary.appointment(clinic, referral, diary.place(clinic, DAY.atTime(10, 0), 30));
        assertThat(warnings(DAY, Contraindicated.class)).isEmpty();
        assertThat(sheet(DAY, clinic.p1()).lines()).singleElement().satisfies(line -> {
            assertThat(line.brief().overridden()).isNotNull();
            assertThat(line.brief().overridden().who()).isEqualTo("P1");
            assertThat(line.brief().overridden().reason()).isEqualTo("drum seen whole on Monday");
            assertThat(line.brief().overridden().cautions()).containsExactly(Caution.PERFORATION);
        });
        mvc.perform(get("/day/" + DAY + "/sheet").with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(content().string(containsString("irrigation despite")))
                .andExpect(content().string(containsString("P1: drum seen whole on Monday")));
    }

    @Test
    void says_nothing_of_an_override_where_none_is_needed() throws Exception {
        book(Method.MICROSUCTION, diary.place(clinic, DAY.atTime(10, 0), 30));
        mvc.perform(get("/day/" + DAY + "/sheet").with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(content().string(not(containsString("irrigation despite"))));
    }

    private void move(UUID id, AskedPlace place) {
        int version =
                appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow().version();
        assertThat(booking.move(clinic.id(), id, version, place)).isInstanceOf(Done.class);
    }

    private UUID book(Method method, AskedPlace place) {
        return diary.appointment(clinic, referral(method), place);
    }

    private Referral referral(Method method, AskedCaution... cautions) {
        return diary.referral(
                clinic,
                new ReferralDetails(
                        new ReferralSource(null, LocalDate.of(2026, 2, 20), Origin.REFERRAL),
                        new VisitRequest(
                                null,
                                Priority.ROUTINE,
                                Ears.LEFT,
                                method,
                                Answer.YES,
                                5,
                                null,
                                null,
                                null,
                                null,
                                Answer.NOT_KNOWN),
                        ReportedEars.UNKNOWN,
                        new CautionAnswers(true, List.of(cautions)),
                        RedFlagAnswers.NOT_ASKED));
    }

    private Sheet sheet(LocalDate date, UUID practitioner) {
        return sheets.of(clinic.id(), date).sheets().stream()
                .filter(each -> each.practitionerId().equals(practitioner))
                .findFirst()
                .orElseThrow();
    }

    private <W extends Warning> List<W> warnings(LocalDate date, Class<W> kind) {
        return sheets.of(clinic.id(), date).sheets().stream()
                .flatMap(each -> each.warnings().stream())
                .filter(kind::isInstance)
                .map(kind::cast)
                .toList();
    }
}
