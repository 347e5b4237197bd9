package org.earslot.page;

import java.util.Arrays;
import java.util.HexFormat;
import java.util.stream.Collectors;
import org.apache.commons.codec.digest.DigestUtils;
import org.jspecify.annotations.Nullable;

/**
 * The version of the rows that an edit form shows. The form carries it in its field {@link #FIELD} and gives it back with
 * what was typed, so that a save from an older page is recognised and changes nothing.
 *
 * @param text the versions of the rows, joined by points
 */
public record FormVersion(String text) {

    public static final String FIELD = "version";

    /** Of a form that shows these rows, always in the same order. */
    public static FormVersion of(int... versions) {
        return new FormVersion(
                Arrays.stream(versions).mapToObj(Integer::toString).collect(Collectors.joining(".")));
    }

    /** Of a form that shows a text which may have no row of its own yet: the beginning of the text's SHA-256. */
    public static FormVersion ofText(String shown) {
        return new FormVersion(HexFormat.of().formatHex(DigestUtils.sha256(shown), 0, 8));
    }

    /** Whether a form that carried {@code sent} shows the rows as they are now; one that carried none does not. */
    public boolean isSeen(@Nullable String sent) {
        return text.equals(sent);
    }

    @Override
    public String toString() {
        return text;
    }
}
