package org.earslot.clinic;

import java.util.Optional;
import java.util.UUID;

/** Whose request this is: the clinic, who asks, and the practitioner behind the account, if any. */
public interface CurrentClinic {

    /** The clinic of the signed-in account or program. */
    ClinicId id();

    /** The sign-in name of whoever asks. */
    String who();

    /** The practitioner that the signed-in account belongs to. */
    Optional<UUID> practitionerId();
}
