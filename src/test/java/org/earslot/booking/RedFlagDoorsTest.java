package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.RED_FLAG_OPEN;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;
import static org.earslot.booking.DiaryFixture.details;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.UnsupportedEncodingException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingRequest.OfOtherVisit;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.BookingResult.Rearranged;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.day.CallInGate;
import org.earslot.day.ClockEvent;
import org.earslot.day.FitIns;
import org.earslot.day.RedFlagNotice;
import org.earslot.day.RedFlagNotices;
import org.earslot.day.RunningDay;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.exchange.imports.ApiImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.offers.DayFix;
import org.earslot.offers.Move;
import org.earslot.offers.Rescheduling;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.Merging;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.util.LinkedMultiValueMap;
import org.springframework.util.MultiValueMap;

/**
 * Whatever sequence of doors is taken, nobody is booked whose red flag waits for a clinician, or who has not been asked,
 * but by an import or after a clinician's recorded decision.
 */
class RedFlagDoorsTest {

    abstract static class Doors {

        private static final int STEPS = 80;
        private static final Instant TUESDAY = Instant.parse("2026-03-03T09:00:00Z");
        private static final MultiValueMap<String, String> NOTHING_NEW =
                MultiValueMap.fromSingleValue(Map.of("nothingNew", "yes"));

        @Autowired
        private MockMvc mvc;

        @Autowired
        private Rescheduling rescheduling;

        @Autowired
        private RunningDay running;

        @Autowired
        private SettableClock clock;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private DiaryFixture fixture;

        @Autowired
        private Intake intake;

        @Autowired
        private RedFlagTriage triage;

        @Autowired
        private OpenRedFlags openRedFlags;

        @Autowired
        private Referrals referrals;

        @Autowired
        private Patients patients;

        @Autowired
        private Merging merging;

        @Autowired
        private Booking booking;

        @Autowired
        private FitIns fitIns;

        @Autowired
        private Appointments appointments;

        @Autowired
        private OtherVisitKinds kinds;

        @Autowired
        private ApiImport imports;

        @Autowired
        private Planning planning;

        @Autowired
        private CallInGate gate;

        @Autowired
        private RedFlagNotices notices;

        @Autowired
        private JdbcTemplate jdbc;

        private TestClinic clinic;
        private UUID kind;
        private Random random;
        private final List<Patient> people = new ArrayList<>();
        private int booked;
        private int refused;
        private int followedUp;

        @BeforeEach
        void opens_a_clinic() {
            clinic = clinics.open();
            kind = kinds.save(new OtherVisitKind(UUID.randomUUID(), clinic.id(), "impression", 20))
                    .id();
            followedUp = 0;
            people.clear();
            for (int i = 0; i < 4; i++) {
                people.add(fixture.patient(clinic, "Doorley" + i, "Pat"));
            }
        }

        @ParameterizedTest
        @ValueSource(longs = {1, 2, 3, 4, 5, 6})
        void no_door_books_past_a_red_flag(long seed) {
            random = new Random(seed);
            booked = 0;
            refused = 0;
            clock.set(TUESDAY);
            for (int step = 0; step < STEPS; step++) {
                Patient patient = people.get(random.nextInt(people.size()));
                switch (random.nextInt(18)) {
                    case 0, 1, 15 -> takesIn(patient);
                    case 2, 3, 16 -> booksAReferral(patient);
                    case 4, 5 -> fitsInOnTheCard(patient);
                    case 6 -> fitsInByNumberAlone(patient);
                    case 7 -> booksAnotherVisit(patient);
                    case 8 -> movesOrCancels(patient);
                    case 9 -> imports(patient);
                    case 10 -> asksAgain(patient);
                    case 11 -> rearranges();
                    case 12 -> takesARearrangementBack();
                    case 13 -> fillsAGapByItsPage(patient);
                    case 14 -> followsUpByItsPages(patient);
                    default -> decidesOrMerges(patient);
                }
            }
            assertThat(booked).as("bookings made, seed %s", seed).isPositive();
            assertThat(refused).as("bookings refused, seed %s", seed).isGreaterThan(2);
            assertThat(followedUp).as("follow-ups, seed %s", seed).isPositive();
        }

        /** One referral of the patient holds an answer that this release does not know; the visits are by other doors. */
        @Test
        void no_door_goes_past_an_answer_that_is_not_understood() {
            clock.set(TUESDAY);
            Patient patient = people.get(0);
            UUID coming = fixture.appointment(
                    clinic,
                    fixture.referral(clinic, patient, details(Method.MICROSUCTION, Ears.LEFT, null, null, null)),
                    fixture.place(clinic, WEDNESDAY.atTime(9, 0), 20));
            UUID here = fixture.appointment(
                    clinic,
                    fixture.referral(clinic, patient, details(Method.MICROSUCTION, Ears.LEFT, null, null, null)),
                    fixture.place(clinic, WEDNESDAY.minusDays(1).atTime(9, 20), 20));
            assertThat(running.record(clinic.id(), here, ClockEvent.ARRIVED)).isInstanceOf(Done.class);
            Referral unclear =
                    fixture.referral(clinic, patient, details(Method.MICROSUCTION, Ears.RIGHT, null, null, null));
            jdbc.update("update referral set red_flags_yes = 'later_flag' where id = ?", unclear.id());
            AskedPlace free = fixture.place(clinic, WEDNESDAY.plusWeeks(1).atTime(10, 0), 20);
            AskedPlace now = fixture.place(clinic, WEDNESDAY.minusDays(1).atTime(9, 0), 1);
            OfFitIn fitIn = new OfFitIn(null, patient.id(), Method.MICROSUCTION, Ears.LEFT, "sent over", now);
            Appointment before = appointments.findById(coming).orElseThrow();

            assertThat(booking.book(clinic.id(), new OfReferral(unclear.id(), free), "r"))
                    .matches(Doors::isRedFlag);
            assertThat(booking.book(clinic.id(), new OfOtherVisit(patient.id(), kind, free), "r"))
                    .matches(Doors::isRedFlag);
            assertThat(booking.book(clinic.id(), fitIn, "r")).matches(Doors::isRedFlag);
            assertThat(fitIns.fitIn(
                            clinic.id(), fitIn, new RedFlagAnswers(RedFlag.noneOfThese(), null), List.of(), null, "r"))
                    .matches(Doors::isRedFlag);
            assertThat(booking.move(clinic.id(), coming, before.version(), free))
                    .matches(Doors::isRedFlag);
            assertThat(planning.notMovedWithOthers(before))
                    .map(BookingRefusal::why)
                    .contains(RED_FLAG_OPEN);
            assertThat(rescheduling.apply(
                            clinic.id(),
                            WEDNESDAY,
                            DayFix.RETIME,
                            List.of(new Move(coming, before.version(), free, true)),
                            "r"))
                    .isNotInstanceOf(Rearranged.class);
            assertThat(place(coming)).isEqualTo(before.place());
            assertThat(gate.refuses(clinic.id(), here, null, "r"))
                    .map(BookingRefusal::why)
                    .contains(RED_FLAG_OPEN);
            assertThat(notices.of(appointments.findById(here).orElseThrow()))
                    .map(RedFlagNotice::state)
                    .contains(RedFlagNotice.State.OPEN);

            assertThat(gate.refuses(clinic.id(), here, clinic.p1(), "p1")).isEmpty();
            assertThat(triage.open(unclear)).get().matches(one -> !one.undecided());
            assertThat(booking.move(clinic.id(), coming, before.version(), free))
                    .isInstanceOf(Done.class);
        }

        private static boolean isRedFlag(BookingResult result) {
            return result instanceof NotDone no
                    && no.refusals().stream().anyMatch(refusal -> refusal.why() == RED_FLAG_OPEN);
        }

        private void takesIn(Patient patient) {
            ReferralDetails said =
                    details(Method.MICROSUCTION, Ears.LEFT, null, null, null).with(new RedFlagAnswers(answers(), null));
            intake.takeIn(clinic.id(), patient.localNumber(), said, desk());
        }

        private void booksAReferral(Patient patient) {
            ofPatient(patient).stream()
                    .skip(random.nextInt(3))
                    .findFirst()
                    .ifPresent(referral -> checked(
                            patient,
                            Optional.of(referral),
                            () -> booking.book(clinic.id(), new OfReferral(referral.id(), somewhere()), "r")));
        }

        /** The card asks first, so what the referral said before does not matter; an open case does. */
        private void fitsInOnTheCard(Patient patient) {
            Optional<Referral> open = ofPatient(patient).stream()
                    .filter(referral ->
                            referral.status() != ReferralStatus.BOOKED && referral.status() != ReferralStatus.CLOSED)
                    .findFirst();
            boolean allowed = undecided(patient).isEmpty();
            RedFlagAnswers answers = new RedFlagAnswers(answers(), null);
            OfFitIn wish = new OfFitIn(
                    open.map(Referral::id).orElse(null),
                    patient.id(),
                    Method.MICROSUCTION,
                    Ears.LEFT,
                    "sent over",
                    fixture.place(clinic, WEDNESDAY.atTime(9, 0), 1));
            Set<UUID> before = booked(patient);
            BookingResult result = fitIns.fitIn(clinic.id(), wish, answers, List.of(), null, "r");
            count(result);
            if (!allowed || answers.stop()) {
                assertThat(booked(patient)).isEqualTo(before);
            } else if (result instanceof Done) {
                assertThat(mayBeBooked(patient, referralOf(result))).isTrue();
            }
        }

        /** As by a caller inside the program: no referral, so nothing was asked, but a case of the person counts. */
        private void fitsInByNumberAlone(Patient patient) {
            if (undecided(patient).isEmpty()) {
                return;
            }
            checked(
                    patient,
                    Optional.empty(),
                    () -> booking.book(
                            clinic.id(),
                            new OfFitIn(
                                    null,
                                    patient.id(),
                                    Method.MICROSUCTION,
                                    Ears.LEFT,
                                    "sent over",
                                    fixture.place(clinic, WEDNESDAY.atTime(9, 0), 1)),
                            "r"));
        }

        private void booksAnotherVisit(Patient patient) {
            checked(
                    patient,
                    Optional.empty(),
                    () -> booking.book(clinic.id(), new OfOtherVisit(patient.id(), kind, somewhere()), "r"));
        }

        private void movesOrCancels(Patient patient) {
            List<Appointment> coming =
                    appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(clinic.id(), patient.id()).stream()
                            .filter(one -> one.status().toCome() && !one.fitIn())
                            .toList();
            if (coming.isEmpty()) {
                return;
            }
            Appointment one = coming.get(0);
            if (random.nextBoolean()) {
                booking.cancel(clinic.id(), one.id(), one.version(), CancelledBy.PATIENT, "away");
                return;
            }
            boolean allowed = undecided(patient).isEmpty();
            BookingResult result = booking.move(clinic.id(), one.id(), one.version(), somewhere());
            assertThat(result instanceof Done && !allowed).isFalse();
        }

        /** As a form of a day's fix that was shown a while ago: everybody who is still to come, some minutes later. */
        private void rearranges() {
            List<Appointment> coming = people.stream()
                    .flatMap(one -> toCome(one).stream())
                    .sorted(Comparator.comparing(one -> one.place().start()))
                    .limit(1 + random.nextInt(3))
                    .toList();
            if (coming.isEmpty()) {
                return;
            }
            List<Move> shifts = coming.stream()
                    .map(one -> new Move(one.id(), one.version(), somewhere(), true))
                    .toList();
            boolean allowed = coming.stream()
                    .allMatch(one -> openRedFlags
                            .of(clinic.id(), one.patientId().orElseThrow())
                            .isEmpty());
            BookingResult result = rescheduling.apply(clinic.id(), WEDNESDAY, DayFix.RETIME, shifts, "r");
            booked += result instanceof Rearranged ? 1 : 0;
            refused += result instanceof Rearranged ? 0 : 1;
            assertThat(result instanceof Rearranged && !allowed).isFalse();
            if (!allowed) {
                coming.forEach(one -> assertThat(place(one.id())).isEqualTo(one.place()));
            }
        }

        private void takesARearrangementBack() {
            rescheduling.undoable(clinic.id(), WEDNESDAY).stream().findFirst().ifPresent(made -> {
                Map<UUID, Appointment> before = people.stream()
                        .flatMap(one -> toCome(one).stream())
                        .filter(one -> !openRedFlags
                                .of(clinic.id(), one.patientId().orElseThrow())
                                .isEmpty())
                        .collect(Collectors.toMap(Appointment::id, Function.identity()));
                rescheduling.undo(clinic.id(), made.id(), true, "r");
                before.forEach((id, one) -> assertThat(place(id)).isEqualTo(one.place()));
            });
        }

        /** The page of a place that came free lists who may have it; its buttons are pressed as they stand. */
        private void fillsAGapByItsPage(Patient patient) {
            Optional<Appointment> leaves = toCome(patient).stream().findFirst();
            if (leaves.isEmpty()) {
                return;
            }
            booking.cancel(clinic.id(), leaves.get().id(), leaves.get().version(), CancelledBy.PATIENT, "away");
            Document page = page("/appointments/" + leaves.get().id() + "/gap");
            for (Patient other : people) {
                if (!undecided(other).isEmpty()) {
                    assertThat(page.text()).doesNotContain(name(other));
                }
            }
            page.select("form[action^=/appointments]").stream().findFirst().ifPresent(form -> {
                Set<UUID> flagged = people.stream()
                        .filter(one -> !undecided(one).isEmpty())
                        .flatMap(one -> booked(one).stream())
                        .collect(Collectors.toSet());
                press(form);
                booked++;
                assertThat(people.stream()
                                .filter(one -> !undecided(one).isEmpty())
                                .flatMap(one -> booked(one).stream()))
                        .allMatch(flagged::contains);
            });
        }

        /** A visit that did not clear the ear; then the pages: come again, the follow-up's referral, the search, the booking. */
        private void followsUpByItsPages(Patient patient) {
            if (!undecided(patient).isEmpty()) {
                return;
            }
            Optional<UUID> seen = seenToday(patient);
            if (seen.isEmpty()) {
                return;
            }
            Map<RedFlag, Answer> now = answers();
            boolean asked = now.equals(RedFlag.noneOfThese());
            String referralPage = location(post("/appointments/" + seen.get() + "/follow-up")
                    .param("method", "microsuction")
                    .param("softenerDays", "0")
                    .params(asked ? NOTHING_NEW : new LinkedMultiValueMap<>()));
            UUID id = UUID.fromString(referralPage.substring(referralPage.lastIndexOf('/') + 1));
            Referral made = referrals.findByClinicIdAndId(clinic.id(), id).orElseThrow();
            assertThat(triage.stillToAsk(made).isEmpty()).isEqualTo(asked);
            if (!asked && random.nextBoolean()) {
                intake.answerRedFlags(made, new RedFlagAnswers(now, null), desk());
            }
            Set<UUID> before = booked(patient);
            boolean allowed = mayBeBooked(patient, Optional.of(made));
            Document slots = page("/slots?referral=" + id);
            Optional<Element> offer =
                    slots.select("form[action^=/appointments]").stream().findFirst();
            assertThat(offer.isPresent()).as(slots.text()).isEqualTo(allowed);
            AskedPlace somewhere = somewhere();
            int status = status(offer.map(this::request)
                    .orElseGet(() -> post("/appointments")
                            .param("referral", id.toString())
                            .param("practitioner", somewhere.practitionerId().toString())
                            .param("room", somewhere.roomId().toString())
                            .param("start", somewhere.start().toString())
                            .param("slotMinutes", "20")));
            assertThat(status).isEqualTo(allowed ? 302 : 409);
            assertThat(booked(patient).equals(before)).isEqualTo(!allowed);
            followedUp++;
            booked += allowed ? 1 : 0;
            refused += allowed ? 0 : 1;
        }

        private Optional<UUID> seenToday(Patient patient) {
            Referral referral =
                    fixture.referral(clinic, patient, details(Method.MICROSUCTION, Ears.LEFT, null, null, null));
            LocalDateTime start = WEDNESDAY.minusDays(1).atTime(9, 20).plusMinutes(20L * followedUp);
            BookingResult booked =
                    booking.book(clinic.id(), new OfReferral(referral.id(), fixture.place(clinic, start, 20)), "r");
            if (!(booked instanceof Done done)) {
                return Optional.empty();
            }
            for (ClockEvent event : List.of(ClockEvent.ARRIVED, ClockEvent.CALLED_IN, ClockEvent.FINISHED)) {
                clock.advance(Duration.ofSeconds(5));
                assertThat(running.record(clinic.id(), done.appointmentId(), event))
                        .isInstanceOf(Done.class);
            }
            assertThat(status(post("/appointments/" + done.appointmentId() + "/findings")
                            .with(fixture.justOpened())
                            .param("left.method1", "microsuction")
                            .param("left.outcome", "residual")
                            .param("nextStep", "come_again")))
                    .isEqualTo(302);
            return Optional.of(done.appointmentId());
        }

        private List<Appointment> toCome(Patient patient) {
            return appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(clinic.id(), patient.id()).stream()
                    .filter(one -> one.status().toCome() && !one.fitIn())
                    .toList();
        }

        private BookedPlace place(UUID id) {
            return appointments
                    .findByClinicIdAndId(clinic.id(), id)
                    .orElseThrow()
                    .place();
        }

        private static String name(Patient patient) {
            return patient.details().familyName() + ", ";
        }

        private Document page(String address) {
            return Jsoup.parse(body(get(address)));
        }

        private void press(Element form) {
            status(request(form));
        }

        private MockHttpServletRequestBuilder request(Element form) {
            MockHttpServletRequestBuilder request = post(form.attr("action"));
            form.select("input[name]").forEach(field -> request.param(field.attr("name"), field.val()));
            return request;
        }

        private int status(MockHttpServletRequestBuilder request) {
            return answer(request).getStatus();
        }

        private String location(MockHttpServletRequestBuilder request) {
            return Objects.requireNonNull(answer(request).getRedirectedUrl());
        }

        private String body(MockHttpServletRequestBuilder request) {
            try {
                return answer(request).getContentAsString();
            } catch (UnsupportedEncodingException e) {
                throw new UncheckedIOException(e);
            }
        }

        private MockHttpServletResponse answer(MockHttpServletRequestBuilder request) {
            try {
                return mvc.perform(request.with(SignedIn.practitioner(clinic.id(), clinic.p1()))
                                .with(csrf()))
                        .andReturn()
                        .getResponse();
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
        }

        private void imports(Patient patient) {
            LocalDateTime at = somewhere().start();
            String line =
                    "booking_id,patient_ref,date,start,slot_minutes,practitioner,room,method_planned,ears,status\n"
                            + "X" + random.nextInt(1_000_000) + "," + patient.localNumber() + "," + at.toLocalDate()
                            + ","
                            + at.toLocalTime() + ",20,P1,R1,microsuction,left,"
                            + (random.nextInt(3) == 0 ? "waitlist" : "booked") + "\n";
            try {
                imports.take(
                        new ImportTerms(clinic.id(), "lead", ImportKind.BOOKINGS, false, false, false),
                        new ByteArrayInputStream(line.getBytes(StandardCharsets.UTF_8)));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        private void asksAgain(Patient patient) {
            ofPatient(patient).stream().skip(random.nextInt(2)).findFirst().ifPresent(referral -> {
                if (random.nextBoolean()) {
                    intake.answerRedFlags(referral, new RedFlagAnswers(answers(), null), desk());
                } else {
                    intake.amend(
                            referral,
                            patients.findById(patient.id()).orElseThrow().details(),
                            referral.details().with(new RedFlagAnswers(answers(), null)),
                            desk());
                }
            });
        }

        private void decidesOrMerges(Patient patient) {
            List<Referral> all = ofPatient(patient);
            if (random.nextInt(4) == 0 && people.size() > 2) {
                Patient other = people.get(random.nextInt(people.size()));
                if (merging.merge(clinic.id(), patient.id(), other.id(), "r").isPresent()) {
                    people.remove(other);
                }
            } else if (!all.isEmpty()) {
                Referral referral = all.get(random.nextInt(all.size()));
                switch (random.nextInt(3)) {
                    case 0 -> triage.clear(referral, "seen", "p1");
                    case 1 -> triage.seeHere(referral, "I look", "p1");
                    default -> triage.sendOn(referral, "sent", "p1");
                }
            }
        }

        private void checked(Patient patient, Optional<Referral> referral, Supplier<BookingResult> door) {
            boolean allowed = mayBeBooked(patient, referral);
            Set<UUID> before = booked(patient);
            count(door.get());
            if (!allowed) {
                assertThat(booked(patient)).isEqualTo(before);
            }
        }

        private void count(BookingResult result) {
            booked += result instanceof Done ? 1 : 0;
            refused += result instanceof Done ? 0 : 1;
        }

        private boolean mayBeBooked(Patient patient, Optional<Referral> referral) {
            List<RedFlagCase> open = openRedFlags.of(clinic.id(), patient.id());
            boolean toBeSeen = referral.map(one ->
                            open.stream().anyMatch(each -> each.referralId().equals(one.id())))
                    .orElse(false);
            return open.stream().noneMatch(RedFlagCase::undecided)
                    && referral.map(one -> toBeSeen || triage.stillToAsk(one).isEmpty())
                            .orElse(true);
        }

        private List<RedFlagCase> undecided(Patient patient) {
            return openRedFlags.of(clinic.id(), patient.id()).stream()
                    .filter(RedFlagCase::undecided)
                    .toList();
        }

        private Optional<Referral> referralOf(BookingResult result) {
            return appointments
                    .findByClinicIdAndId(clinic.id(), ((Done) result).appointmentId())
                    .flatMap(Appointment::referralId)
                    .flatMap(id -> referrals.findByClinicIdAndId(clinic.id(), id));
        }

        private List<Referral> ofPatient(Patient patient) {
            return referrals.ofPatient(clinic.id(), patient.id());
        }

        private Set<UUID> booked(Patient patient) {
            Set<UUID> ids = new HashSet<>();
            appointments
                    .findByClinicIdAndPatientIdOrderByStartsAtDesc(clinic.id(), patient.id())
                    .forEach(one -> ids.add(one.id()));
            return ids;
        }

        /** All no, one yes, one not known, or one not asked. */
        private Map<RedFlag, Answer> answers() {
            Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.noneOfThese());
            RedFlag one =
                    RedFlag.stopping().get(random.nextInt(RedFlag.stopping().size()));
            switch (random.nextInt(5)) {
                case 0 -> answers.put(one, Answer.YES);
                case 1 -> answers.put(one, Answer.NOT_KNOWN);
                case 2 -> answers.remove(one);
                default -> {
                    // All no.
                }
            }
            return answers;
        }

        private AskedPlace somewhere() {
            return fixture.place(
                    clinic,
                    WEDNESDAY
                            .plusWeeks(random.nextInt(20))
                            .atTime(9 + random.nextInt(4), 0)
                            .plusMinutes(20L * random.nextInt(2)),
                    20);
        }

        private static Taker desk() {
            return new Taker("r", null);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Doors {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Doors {}
}
