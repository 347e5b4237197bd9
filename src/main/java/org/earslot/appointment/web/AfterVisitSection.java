package org.earslot.appointment.web;

import java.util.List;
import java.util.Optional;
import org.earslot.aftercare.FollowUps;
import org.earslot.aftercare.LetterKind;
import org.earslot.aftercare.web.OnwardForm;
import org.earslot.booking.Appointment;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.FoundCautions;
import org.earslot.booking.web.VisitKit;
import org.earslot.offers.WaitlistOffers;
import org.earslot.visit.Visit;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** What follows the visit: its kit, the place that came free, the next visit, letters, complications. */
@Component
class AfterVisitSection {

    private final VisitKit visitKit;
    private final WaitlistOffers waitlistOffers;
    private final FollowUps followUps;
    private final OnwardForm onward;
    private final FoundCautions found;

    AfterVisitSection(
            VisitKit visitKit,
            WaitlistOffers waitlistOffers,
            FollowUps followUps,
            OnwardForm onward,
            FoundCautions found) {
        this.visitKit = visitKit;
        this.waitlistOffers = waitlistOffers;
        this.followUps = followUps;
        this.onward = onward;
        this.found = found;
    }

    void show(Model model, Appointment appointment, Optional<Visit> visit) {
        visitKit.show(model, appointment);
        model.addAttribute("gapOpen", waitlistOffers.open(appointment));
        model.addAttribute("next", followUps.next(appointment).orElse(null));
        model.addAttribute("letterKinds", letterKinds(appointment));
        onward.show(model, visit);
        model.addAttribute(
                "complications",
                visit.map(known -> found.proposed(appointment, known)).orElse(List.of()));
    }

    /** The letters that fit the status of the appointment. */
    private static List<LetterKind> letterKinds(Appointment appointment) {
        return switch (appointment.status()) {
            case CANCELLED ->
                appointment.cancelledBy().filter(CancelledBy.CLINIC::equals).isPresent()
                        ? List.of(LetterKind.CANCELLATION)
                        : List.of();
            case NOSHOW -> List.of(LetterKind.MISSED, LetterKind.NOT_BROUGHT, LetterKind.NOT_BROUGHT_REFERRER);
            case FULFILLED -> List.of(LetterKind.PATIENT, LetterKind.REFERRER);
            default -> appointment.status().toCome() ? List.of(LetterKind.CONFIRMATION) : List.of();
        };
    }
}
