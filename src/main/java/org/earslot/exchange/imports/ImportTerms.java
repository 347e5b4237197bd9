package org.earslot.exchange.imports;

import java.util.ArrayList;
import java.util.List;
import org.earslot.clinic.ClinicId;
import org.earslot.page.Problem;
import org.earslot.page.Refused;

/**
 * On which terms a file goes in.
 *
 * @param who the sign-in name of whoever asks
 * @param dryRun everything is done and reported, and then taken back
 * @param createNames practitioners and rooms that are not set up are created, else their lines are rejected
 * @param update a known id with other content replaces what is there, else the line is rejected
 */
public record ImportTerms(
        ClinicId clinicId, String who, ImportKind kind, boolean dryRun, boolean createNames, boolean update) {

    /**
     * As a program says them.
     *
     * @throws Refused with every one that is neither {@code true} nor {@code false}
     */
    public static ImportTerms asked(
            ClinicId clinicId, String who, ImportKind kind, String dryRun, String createNames, String update) {
        List<Problem> problems = new ArrayList<>();
        ImportTerms terms = new ImportTerms(
                clinicId,
                who,
                kind,
                flag("dryRun", dryRun, problems),
                flag("createNames", createNames, problems),
                flag("update", update, problems));
        if (!problems.isEmpty()) {
            throw Refused.invalid(problems);
        }
        return terms;
    }

    private static boolean flag(String name, String given, List<Problem> problems) {
        if (!given.equals("true") && !given.equals("false")) {
            problems.add(Problem.of(name, given, "page.allowed.trueOrFalse"));
        }
        return given.equals("true");
    }
}
