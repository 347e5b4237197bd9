package org.earslot.clinic.web;

import io.swagger.v3.oas.annotations.Operation;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Word;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** What other programs refer to by name: practitioners, rooms, sessions and the policy. */
@RestController
@RequestMapping("/api/v1")
class ReferenceApi {

    private static final int MOST_DAYS = 92;

    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Sessions sessions;
    private final Policies policies;
    private final CurrentClinic current;
    private final ClinicClock clock;

    ReferenceApi(
            Practitioners practitioners,
            Rooms rooms,
            Sessions sessions,
            Policies policies,
            CurrentClinic current,
            ClinicClock clock) {
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.sessions = sessions;
        this.policies = policies;
        this.current = current;
        this.clock = clock;
    }

    /**
     * @param methods codes of the methods that the practitioner is trained in
     * @param active whether still working here
     */
    record PractitionerBody(UUID id, String name, @Nullable String dominantHand, List<String> methods, boolean active) {

        static PractitionerBody of(Practitioner one) {
            return new PractitionerBody(
                    one.id(),
                    one.name(),
                    one.dominantHand().map(Word::code).orElse(null),
                    one.methods().stream().map(Word::code).sorted().toList(),
                    one.active());
        }
    }

    /** @param active whether still in use */
    record RoomBody(UUID id, String name, boolean active) {}

    /**
     * @param session its name in bookings
     * @param from clinic-local
     * @param breakFrom null if there is no break
     */
    record SessionBody(
            String session,
            String practitioner,
            String room,
            LocalDateTime from,
            LocalDateTime to,
            @Nullable LocalTime breakFrom,
            @Nullable LocalTime breakTo) {}

    /**
     * @param acceptedOverrunShare in (0, 1)
     * @param acceptedOvertimeShare in (0, 1)
     * @param offers list or end
     */
    record PolicyBody(
            int gridMinutes,
            double acceptedOverrunShare,
            double acceptedOvertimeShare,
            int leastSlotMinutes,
            int mostSlotMinutes,
            int waitLimitMinutes,
            int earlyAllowanceMinutes,
            int tenDaysSoonerMinutes,
            Map<String, Integer> turnaroundMinutes,
            String offers) {}

    @Operation(summary = "api.summary.practitioners")
    @GetMapping("/practitioners")
    List<PractitionerBody> practitioners() {
        return practitioners.findByClinicIdOrderByName(current.id()).stream()
                .map(PractitionerBody::of)
                .toList();
    }

    @Operation(summary = "api.summary.rooms")
    @GetMapping("/rooms")
    List<RoomBody> rooms() {
        return rooms.findByClinicIdOrderByName(current.id()).stream()
                .map(room -> new RoomBody(room.id(), room.name(), room.active()))
                .toList();
    }

    @Operation(summary = "api.summary.sessions")
    @GetMapping("/sessions")
    List<SessionBody> sessions(
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to) {
        ClinicId clinic = current.id();
        Reading reading = new Reading();
        var today = clock.today(clinic);
        var first = reading.date("from", from, today.minusYears(5), today.plusYears(2))
                .orElse(today);
        var last = reading.date("to", to, first, first.plusDays(MOST_DAYS - 1L)).orElse(first.plusDays(27));
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        Map<UUID, String> staff = practitioners.findByClinicIdOrderByName(clinic).stream()
                .collect(Collectors.toMap(Practitioner::id, Practitioner::name));
        Map<UUID, Room> places = rooms.findByClinicIdOrderByName(clinic).stream()
                .collect(Collectors.toMap(Room::id, Function.identity()));
        return sessions.between(clinic, first, last).stream()
                .map(session -> body(session, staff, places))
                .toList();
    }

    private static SessionBody body(ClinicSession session, Map<UUID, String> staff, Map<UUID, Room> places) {
        return new SessionBody(
                session.key(),
                staff.getOrDefault(session.practitionerId(), ""),
                Optional.ofNullable(places.get(session.roomId()))
                        .map(Room::name)
                        .orElse(""),
                session.date().atTime(session.span().from()),
                session.date().atTime(session.span().to()),
                session.pause().map(pause -> pause.from()).orElse(null),
                session.pause().map(pause -> pause.to()).orElse(null));
    }

    @Operation(summary = "api.summary.policy")
    @GetMapping("/policy")
    PolicyBody policy() {
        Policy policy = policies.findById(current.id()).orElseThrow();
        PolicyTerms terms = policy.terms();
        return new PolicyBody(
                terms.gridMinutes(),
                terms.acceptedOverrunShare(),
                terms.acceptedOvertimeShare(),
                terms.leastSlotMinutes(),
                terms.mostSlotMinutes(),
                terms.waitLimitMinutes(),
                terms.earlyAllowanceMinutes(),
                terms.tenDaysSoonerMinutes(),
                Map.of(
                        "irrigation", terms.irrigationTurnaroundMinutes(),
                        "microsuction", terms.microsuctionTurnaroundMinutes(),
                        "manual_removal", terms.manualRemovalTurnaroundMinutes()),
                policy.offersWeighList() ? "list" : "end");
    }
}
