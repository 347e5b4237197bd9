package org.earslot.day.web;

import java.util.List;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.RecentViews;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientSearch;
import org.earslot.patient.PatientSearch.Found;
import org.earslot.patient.Patients;
import org.springframework.stereotype.Component;

/** Who is meant by what was typed for a patient: a local number, or anything the search finds patients by. */
@Component
class TypedPatients {

    private final Patients patients;
    private final PatientSearch search;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final RecentViews views;

    TypedPatients(
            Patients patients, PatientSearch search, CurrentClinic current, ClinicClock clock, RecentViews views) {
        this.patients = patients;
        this.search = search;
        this.current = current;
        this.clock = clock;
        this.views = views;
    }

    /**
     * Who may be meant.
     *
     * @param patients the best first
     * @param certain whether it is the only one, and spelt so
     */
    record Meant(List<Patient> patients, boolean certain) {}

    Meant by(String typed) {
        List<Patient> known =
                patients.typed(current.id(), typed.strip()).stream().toList();
        if (!known.isEmpty()) {
            return new Meant(known, true);
        }
        Found found = search.find(current.id(), typed, clock.today(current.id()));
        return new Meant(found.patients(), found.patients().size() == 1 && !found.misspelt());
    }

    /** Records that these were shown to be chosen from. */
    void shown(List<Patient> chosenFrom) {
        views.seen(
                current.id(),
                current.who(),
                false,
                chosenFrom.stream().map(Patient::id).toList(),
                "patient search");
    }
}
