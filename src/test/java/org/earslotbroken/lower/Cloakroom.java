package org.earslotbroken.lower;

import java.util.UUID;

/** Takes and holds an id that any other could be swapped with. */
public class Cloakroom {
    UUID clinicId;

    Cloakroom(UUID clinicId) {
        this.clinicId = clinicId;
    }

    public void hang(UUID clinicId) {
        this.clinicId = clinicId;
    }
}
