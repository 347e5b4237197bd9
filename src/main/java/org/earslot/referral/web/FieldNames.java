package org.earslot.referral.web;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.earslot.page.Messages;
import org.earslot.referral.RedFlagText;

/**
 * What the fields of the referral form are called on the page.
 *
 * @param flags the texts of the red flags by their codes
 */
record FieldNames(Messages messages, Map<String, RedFlagText> flags) {

    String of(String field) {
        int point = field.indexOf('.');
        if (point > 0) {
            String code = field.substring(point + 1);
            RedFlagText flag = field.startsWith("flag.") ? flags.get(code) : null;
            return flag == null ? messages.say("Caution." + code) : flag.ask();
        }
        for (String ear : List.of("right", "left")) {
            if (field.startsWith(ear)) {
                String finding = field.substring(ear.length()).toLowerCase(Locale.ROOT);
                return messages.say("Ear." + ear) + ", " + messages.say("referral." + finding);
            }
        }
        return messages.say("referral." + field);
    }
}
