package org.earslot.booking;

import java.util.UUID;

/** Something has changed that any day of the clinic may rest on; published inside the transaction that changes it. */
public record DiaryChanged(UUID clinicId) {}
