package org.earslot.referral.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.earslot.page.ChangedField;
import org.earslot.page.FormFields;
import org.earslot.page.FormVersion;

/**
 * Brings a referral form that was filled in from an older version up to date, so that it erases nothing when it is saved
 * again: what is stored now stands where nothing was typed, and a red flag answered with yes stays a yes.
 */
final class ReferralChanges {

    private static final Set<String> NOT_COMPARED = Set.of(
            FormVersion.FIELD,
            "localNumber",
            "formKey",
            "nameUnknown",
            "clinician",
            "noneFlagged",
            "cautions",
            "_csrf");

    /** Fields with words of a list, and the name of the list. */
    private static final Map<String, String> LISTS = Map.ofEntries(
            Map.entry("origin", "Origin"),
            Map.entry("contactPermission", "Answer"),
            Map.entry("preferredRoute", "ContactRoute"),
            Map.entry("hearingAid", "Answer"),
            Map.entry("firstVisit", "Answer"),
            Map.entry("shortNotice", "Answer"),
            Map.entry("priority", "Priority"),
            Map.entry("ears", "Ears"),
            Map.entry("method", "Method"),
            Map.entry("flag", "Answer"),
            Map.entry("Wax", "Wax"),
            Map.entry("Canal", "Canal"),
            Map.entry("Depth", "Depth"),
            Map.entry("Occlusion", "Occlusion"));

    private final FieldNames names;

    private ReferralChanges(FieldNames names) {
        this.names = names;
    }

    /**
     * Changes {@code typed} accordingly, gives it the version of {@code now}, and answers each difference.
     */
    static List<ChangedField> takeOver(FormFields typed, FormFields now, FieldNames names) {
        ReferralChanges compared = new ReferralChanges(names);
        List<ChangedField> changes = new ArrayList<>();
        Set<String> fields = new TreeSet<>(typed.filled().keySet());
        fields.addAll(now.filled().keySet());
        fields.removeAll(NOT_COMPARED);
        for (String field : fields) {
            if (!known(typed.get(field)).equals(known(now.get(field)))) {
                boolean takes = known(typed.get(field)).isEmpty() || isYes(field, now.get(field));
                changes.add(new ChangedField(compared.names.of(field), compared.word(field, now.get(field)), takes));
                typed.put(field, takes ? now.get(field) : typed.get(field));
            }
        }
        now.all("cautions").stream()
                .filter(caution -> !typed.has("cautions", caution))
                .forEach(caution -> {
                    changes.add(new ChangedField(
                            compared.names.messages().say("Caution." + caution),
                            compared.names.messages().say("Answer.yes"),
                            true));
                    typed.add("cautions", caution);
                });
        typed.put(FormVersion.FIELD, now.get(FormVersion.FIELD));
        return changes;
    }

    private static String known(String value) {
        return value.equals("not_known") ? "" : value.strip().replace("\r\n", "\n");
    }

    private static boolean isYes(String field, String value) {
        return field.startsWith("flag.") && value.equals("yes");
    }

    private String word(String field, String value) {
        String list = LISTS.get(field.replaceFirst("\\..*", "").replaceFirst("^(right|left)", ""));
        return value.isEmpty() || list == null ? value : names.messages().say(list + "." + value);
    }
}
