package org.earslot.visit;

import java.util.UUID;

/** Visits of the past went in: {@code count} lines new or changed. */
public record VisitsImported(UUID clinicId, long count) {}
