package org.earslot.diary.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Sessions;
import org.earslot.diary.AskedPlace;
import org.earslot.diary.Booking;
import org.earslot.diary.BookingRequest;
import org.earslot.diary.BookingRequest.OfFitIn;
import org.earslot.diary.BookingRequest.OfOtherVisit;
import org.earslot.diary.BookingResult;
import org.earslot.diary.BookingResult.NotDone;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The day: lanes, table, and what is booked straight into it. */
@Controller
class DayPages {

    private static final int LONGEST_TEXT = 200;

    private final DayPage page;
    private final Booking booking;
    private final Sessions sessions;
    private final Patients patients;
    private final Referrals referrals;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final DiaryWords words;

    DayPages(
            DayPage page,
            Booking booking,
            Sessions sessions,
            Patients patients,
            Referrals referrals,
            CurrentClinic current,
            ClinicClock clock,
            DiaryWords words) {
        this.page = page;
        this.booking = booking;
        this.sessions = sessions;
        this.patients = patients;
        this.referrals = referrals;
        this.current = current;
        this.clock = clock;
        this.words = words;
    }

    @GetMapping("/day")
    String today() {
        return "redirect:/day/" + clock.today(current.id());
    }

    @GetMapping("/day/{date}")
    String show(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestHeader(name = "HX-Request", defaultValue = "false") boolean again,
            Model model) {
        return again ? page.showAgain(model, date) : page.show(model, date);
    }

    /** The day as a page, so that a date can be picked without scripts. */
    @GetMapping(value = "/day", params = "date")
    String pick(@RequestParam @DateTimeFormat(iso = ISO.DATE) LocalDate date) {
        return "redirect:/day/" + date;
    }

    @PostMapping("/day/{date}/fit-in")
    String fitIn(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Patient> patient = patient(reading, "fitInPatient", typed);
        Optional<String> reason = reading.required(
                "fitInReason", reading.text("fitInReason", typed.get("fitInReason"), LONGEST_TEXT), "a reason");
        Optional<ClinicSession> session = session(reading, "fitInSession", date, typed);
        Optional<Method> method =
                reading.word("fitInMethod", typed.get("fitInMethod"), Method::of, Word.codes(Method.values()));
        Optional<Ears> ears = reading.word("fitInEars", typed.get("fitInEars"), Ears::of, Word.codes(Ears.values()));
        Optional<Referral> referral = patient.flatMap(this::openReferral);
        if (patient.isPresent() && referral.isEmpty() && reading.clean()) {
            reading.required("fitInMethod", method, "a method, since there is no open referral");
            reading.required("fitInEars", ears, "the ears, since there is no open referral");
        }
        if (!reading.clean() || session.isEmpty()) {
            return again(model, date, typed, reading.byField(), response);
        }
        LocalDateTime now = clock.local(current.id(), clock.now()).withSecond(0);
        LocalDateTime from = date.equals(now.toLocalDate())
                ? now
                : date.atTime(session.get().span().from());
        AskedPlace place =
                new AskedPlace(session.get().practitionerId(), session.get().roomId(), from, 1);
        return booked(
                new OfFitIn(
                        referral.map(Referral::id).orElse(null),
                        patient.map(Patient::id).orElse(null),
                        method.orElse(null),
                        ears.orElse(null),
                        reason.orElse(""),
                        place),
                "diary.notice.fittedIn",
                date,
                typed,
                "fitIn",
                model,
                redirect,
                response);
    }

    @PostMapping("/day/{date}/other-visit")
    String otherVisit(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Patient> patient = patient(reading, "otherPatient", typed);
        Optional<UUID> kind = reading.required("otherKind", reading.id("otherKind", typed.get("otherKind")), "a kind");
        Optional<ClinicSession> session = session(reading, "otherSession", date, typed);
        var start = reading.required("otherStart", reading.time("otherStart", typed.get("otherStart")), "a time");
        if (patient.isEmpty() || kind.isEmpty() || session.isEmpty() || start.isEmpty()) {
            return again(model, date, typed, reading.byField(), response);
        }
        AskedPlace place =
                new AskedPlace(session.get().practitionerId(), session.get().roomId(), date.atTime(start.get()), 1);
        return booked(
                new OfOtherVisit(patient.get().id(), kind.get(), place),
                "diary.notice.booked",
                date,
                typed,
                "other",
                model,
                redirect,
                response);
    }

    private String booked(
            BookingRequest request,
            String notice,
            LocalDate date,
            Map<String, String> typed,
            String form,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        BookingResult result = booking.book(current.id(), request, current.who());
        if (result instanceof NotDone no) {
            model.addAttribute("refused", words.say(no));
            model.addAttribute("refusedForm", form);
            response.setStatus(words.status(no.refusals()));
            return page.show(model, date, typed, Map.of());
        }
        redirect.addFlashAttribute("notice", words.say(notice));
        return "redirect:/day/" + date;
    }

    private String again(
            Model model,
            LocalDate date,
            Map<String, String> typed,
            Map<String, Problem> problems,
            HttpServletResponse response) {
        response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        return page.show(model, date, new HashMap<>(typed), problems);
    }

    private Optional<Patient> patient(Reading reading, String field, Map<String, String> typed) {
        Optional<String> number = reading.required(
                field, reading.text(field, typed.get(field), LONGEST_TEXT), "a patient's local number");
        Optional<Patient> found = number.flatMap(known -> patients.findByClinicIdAndLocalNumber(current.id(), known));
        if (number.isPresent() && found.isEmpty()) {
            reading.problem(field, "", "the local number of a patient of this clinic", "look it up under Referrals");
        }
        return found;
    }

    private Optional<Referral> openReferral(Patient patient) {
        return referrals.findByClinicIdAndPatientIdOrderByReceivedOnDesc(current.id(), patient.id()).stream()
                .filter(referral -> referral.status() == ReferralStatus.READY_TO_BOOK
                        || referral.status() == ReferralStatus.WAITING)
                .findFirst();
    }

    private Optional<ClinicSession> session(Reading reading, String field, LocalDate date, Map<String, String> typed) {
        List<ClinicSession> held = PlaceForm.Days.holds(date) ? sessions.on(current.id(), date) : List.of();
        String key = typed.getOrDefault(field, "");
        Optional<ClinicSession> found =
                held.stream().filter(session -> session.key().equals(key)).findFirst();
        if (found.isEmpty()) {
            reading.problem(field, "", "a session of that day", "choose one of the list");
        }
        return found;
    }
}
