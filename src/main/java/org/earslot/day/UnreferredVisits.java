package org.earslot.day;

import java.util.Optional;
import org.earslot.clinic.ClinicClock;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.page.Messages;
import org.earslot.patient.Patient;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.Origin;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.VisitRequest;
import org.springframework.stereotype.Component;

/** Makes the referral of a visit for wax that has none, so that what is asked has a record to belong to. */
@Component
class UnreferredVisits {

    private final Intake intake;
    private final ClinicClock clock;
    private final Messages messages;

    UnreferredVisits(Intake intake, ClinicClock clock, Messages messages) {
        this.intake = intake;
        this.clock = clock;
        this.messages = messages;
    }

    /**
     * A referral of today by the patient; nothing has been asked yet.
     *
     * @param reason why the patient comes, if it is known
     * @param who the sign-in name of whoever asks
     */
    Referral referral(Patient patient, Optional<String> reason, Method method, Ears ears, String who) {
        VisitRequest request = VisitRequest.routine(ears, method)
                .because(reason.map(String::strip).orElseGet(() -> messages.say("day.unreferred.reason")));
        ReferralSource source = new ReferralSource(null, clock.today(patient.clinicId()), Origin.SELF_REFERRAL);
        ReferralDetails said = ReferralDetails.unasked(source, request);
        return intake.takeIn(patient.clinicId(), patient.localNumber(), said, new Taker(who, null));
    }
}
