package org.earslot.offers;

import java.time.LocalDate;
import org.earslot.booking.PlaceRules;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.estimate.habits.LearntPatterns;
import org.earslot.referral.Priority;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** The terms by which a clinic makes offers at this moment. */
@Component
class OfferTermsReader {

    private final PlaceRules rules;
    private final LearntPatterns habits;
    private final ClinicClock clock;

    OfferTermsReader(PlaceRules rules, LearntPatterns habits, ClinicClock clock) {
        this.rules = rules;
        this.habits = habits;
        this.clock = clock;
    }

    /** @param said the referral; null for another kind of visit */
    OfferTerms of(ClinicId clinicId, SlotWish wish, @Nullable ReferralDetails said) {
        return new OfferTerms(
                rules.policy(clinicId),
                rules.costs(clinicId),
                rules.offersWeighList(clinicId),
                habits.of(clinicId),
                clock.local(clinicId, clock.now()),
                clock.zone(clinicId),
                said == null ? Priority.ROUTINE : said.request().priority(),
                wish.partOfDay());
    }

    /** The clinic's date. */
    LocalDate today(ClinicId clinicId) {
        return clock.today(clinicId);
    }
}
