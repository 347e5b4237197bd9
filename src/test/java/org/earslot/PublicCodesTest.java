package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.earslot.account.Role;
import org.earslot.caution.CautionRefusal;
import org.earslot.flow.past.WaitSources.Cause;
import org.earslot.referral.ReferralRefusal;
import org.junit.jupiter.api.Test;

/** Codes that programs rely on, spelt out: one that is changed, added or gone here changes the interface. */
class PublicCodesTest {

    private static final Path SOURCES = Path.of("src/main/java");

    /** A problem's code where it is thrown: {@code conflict("x", ...)}, {@code new Refused(409, "x", ...)}. */
    private static final Pattern THROWN =
            Pattern.compile("(?:conflict\\(|new Refus(?:ed|al)\\(\\s*\\d+,)\\s*\"([^\"]+)\"");

    @Test
    void problems_thrown_by_pages_and_the_interface_have_these_codes() throws IOException {
        Set<String> codes = new TreeSet<>();
        try (Stream<Path> files = Files.walk(SOURCES)) {
            for (Path file :
                    files.filter(one -> one.toString().endsWith(".java")).toList()) {
                Matcher thrown = THROWN.matcher(Files.readString(file));
                while (thrown.find()) {
                    codes.add(thrown.group(1));
                }
            }
        }
        assertThat(codes)
                .containsExactly(
                        "busy",
                        "changed-meanwhile",
                        "conflict",
                        "if-match-missing",
                        "import-under-way",
                        "invalid",
                        "key-used",
                        "kit-moved-on",
                        "length-needed",
                        "missed-not-decided",
                        "month-not-closed",
                        "no-complication",
                        "no-letter",
                        "no-practitioner",
                        "not-found",
                        "not-referred-on",
                        "nothing-to-follow",
                        "patient-differs",
                        "set-not-clean",
                        "still-running",
                        "too-large",
                        "unexpected",
                        "unreadable");
    }

    @Test
    void referrals_and_cautions_are_refused_with_these_codes() {
        assertThat(ReferralRefusal.values())
                .extracting(ReferralRefusal::code)
                .containsExactly(
                        "referral-booked",
                        "red-flag-open",
                        "red-flags-not-asked",
                        "patient-deceased",
                        "patient-deceased",
                        "referral-booked",
                        "method-not-held",
                        "nothing-to-override",
                        "no-red-flag-open",
                        "referral-not-closed",
                        "not-to-merge",
                        "not-to-part");
        assertThat(CautionRefusal.values())
                .extracting(CautionRefusal::code)
                .containsExactly("not-found", "no-practitioner", "no-practitioner", "table-changed");
    }

    @Test
    void roles_and_causes_of_waiting_have_codes_of_their_own() {
        assertThat(Role.values()).extracting(Role::code).containsExactly("receptionist", "practitioner", "lead");
        List<String> causes = Arrays.stream(Cause.values()).map(Cause::code).toList();
        assertThat(causes)
                .containsExactly("visit", "fit_in", "diary", "session_start", "late_arrival", "called_in_late");
    }
}
