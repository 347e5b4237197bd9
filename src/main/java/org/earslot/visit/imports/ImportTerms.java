package org.earslot.visit.imports;

import java.util.UUID;

/**
 * On which terms a file goes in.
 *
 * @param who the sign-in name of whoever asks
 * @param dryRun everything is done and reported, and then taken back
 * @param createNames practitioners and rooms that are not set up are created, else their lines are rejected
 * @param update a known id with other content replaces what is there, else the line is rejected
 */
public record ImportTerms(
        UUID clinicId, String who, ImportKind kind, boolean dryRun, boolean createNames, boolean update) {}
