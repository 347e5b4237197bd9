package org.earslot.clinic;

import java.util.HashMap;
import java.util.Map;
import org.earslot.page.Messages;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The names of the clinic, its practitioners, rooms, other visits and weekly sessions. */
@Component
class SetUpRecordNames implements RecordNames {

    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final OtherVisitKinds otherVisits;
    private final WeeklySessions sessions;
    private final Messages messages;

    SetUpRecordNames(
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            OtherVisitKinds otherVisits,
            WeeklySessions sessions,
            Messages messages) {
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.otherVisits = otherVisits;
        this.sessions = sessions;
        this.messages = messages;
    }

    @Override
    @Transactional(readOnly = true)
    public Map<String, String> of(ClinicId clinicId) {
        Map<String, String> names = new HashMap<>();
        clinics.findById(clinicId).ifPresent(clinic -> names.put(clinicId.toString(), clinic.name()));
        practitioners
                .findByClinicIdOrderByName(clinicId)
                .forEach(one -> names.put(one.id().toString(), one.name()));
        rooms.findByClinicIdOrderByName(clinicId)
                .forEach(one -> names.put(one.id().toString(), one.name()));
        otherVisits
                .findByClinicIdOrderByName(clinicId)
                .forEach(one -> names.put(one.id().toString(), one.name()));
        sessions.findByClinicId(clinicId)
                .forEach(one -> names.put(
                        one.id().toString(),
                        messages.say("clinic.day." + one.day().name()) + " "
                                + one.span().from() + ", "
                                + names.getOrDefault(one.practitionerId().toString(), "–")));
        return names;
    }
}
