package org.earslot.exchange;

import java.util.List;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.WeeklySessions;
import org.earslot.estimate.LeadKnowledge;
import org.earslot.referral.Referrals;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Service;

/** The steps from a new clinic to its first referral, and which of them are done. */
@Service
public class FirstSteps {

    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions sessions;
    private final Visits visits;
    private final LeadKnowledge knowledge;
    private final Referrals referrals;

    FirstSteps(
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            WeeklySessions sessions,
            Visits visits,
            LeadKnowledge knowledge,
            Referrals referrals) {
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.sessions = sessions;
        this.visits = visits;
        this.knowledge = knowledge;
        this.referrals = referrals;
    }

    /**
     * @param code names it in message files
     *
     * @param address where it is done
     */
    public record Step(String code, String address, boolean done) {}

    /**
     * In the order in which they are done. Past visits may be left out: what the lead knows of the minutes takes their place, and a
     * clinic that has a referral has begun with that or with the general assumptions.
     */
    public List<Step> of(ClinicId clinicId) {
        boolean referred = !referrals.counts(clinicId).isEmpty();
        String phone = clinics.findById(clinicId).orElseThrow().contact().phone();
        return List.of(
                new Step("clinic", "/setup#contact", phone != null && !phone.isBlank()),
                new Step(
                        "practitioner",
                        "/setup#practitioners",
                        !practitioners.findByClinicIdOrderByName(clinicId).isEmpty()
                                && !rooms.findByClinicIdOrderByName(clinicId).isEmpty()),
                new Step(
                        "session",
                        "/setup#sessions",
                        !sessions.findByClinicId(clinicId).isEmpty()),
                new Step(
                        "visits",
                        "/import",
                        referred
                                || visits.countByClinicId(clinicId) > 0
                                || !knowledge.answers(clinicId).isEmpty()),
                new Step("referral", "/referrals/new", referred));
    }
}
