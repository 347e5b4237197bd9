package org.earslot.diary;

import java.util.UUID;

/** Something has changed that any day of the clinic may rest on; published inside the transaction that changes it. */
record DiaryChanged(UUID clinicId) {}
