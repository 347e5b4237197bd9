package org.earslot.estimate;

import java.util.List;
import org.earslot.duration.Prediction.ItemKind;
import org.earslot.ear.Ear;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.context.support.DefaultMessageSourceResolvable;

/**
 * One line of "why this long"; the lines of an estimate add up to its median. As a message it words itself: give it to a
 * {@code MessageSource}, or {@code key} and {@code words} to a template.
 *
 * @param kind what sort of line it is
 * @param ear the ear it is about, null for the whole visit
 * @param subject the code of the method or of what was reported, empty where the line is about none
 * @param level the code of the level, empty where it is not known
 * @param minutes what it adds; below 0, what it saves
 * @param low 10 % point of those minutes, by what is known of the clinic
 * @param high 90 % point
 */
public record WhyLine(
        ItemKind kind, @Nullable Ear ear, String subject, String level, double minutes, double low, double high)
        implements MessageSourceResolvable {

    /** The message of the line; its arguments are the words of ear, subject and level. */
    public String key() {
        return switch (kind) {
            case ONCE -> "estimate.why.once";
            case PART -> "estimate.why.part";
            case GROUP -> "estimate.why.group" + (nobodyYet() ? ".any" : "");
            case PERSON -> "estimate.why.person" + (nobodyYet() ? ".notKnown" : "");
            case UNKNOWN -> "estimate.why.unknown";
            case FACTOR -> "estimate.why." + family() + (level.isEmpty() ? ".notKnown" : "");
        };
    }

    /** Whether no practitioner, or no past visit of the patient, stands behind the line. */
    private boolean nobodyYet() {
        return minutes == 0;
    }

    private String family() {
        String family = Factors.family(subject);
        return family.equals("caution") && ear != null ? "caution.ofEar" : family;
    }

    /** The words that go into the message: ear, subject, level. */
    public List<MessageSourceResolvable> words() {
        return List.of(
                word("Ear." + (ear == null ? "" : ear.code())),
                word(kind == ItemKind.PART ? "Method." + subject : Factors.subjectWord(subject)),
                word(Factors.levelWord(subject, level)));
    }

    /** The ear's word. */
    public MessageSourceResolvable earWord() {
        return words().get(0);
    }

    /** The word of the method or factor. */
    public MessageSourceResolvable subjectWord() {
        return words().get(1);
    }

    /** The level's word. */
    public MessageSourceResolvable levelWord() {
        return words().get(2);
    }

    @Override
    public String[] getCodes() {
        return new String[] {key()};
    }

    @Override
    public Object[] getArguments() {
        return words().toArray();
    }

    private static MessageSourceResolvable word(String key) {
        String plain = key.substring(key.lastIndexOf('.') + 1).replace('_', ' ');
        return new DefaultMessageSourceResolvable(new String[] {key}, plain);
    }
}
