package org.earslot.exchange.mapping;

import java.util.Locale;

/** Words looked for in a note as whole words, whatever their case and the blanks between them. */
final class HeadingSynonym {

    private final String said;

    HeadingSynonym(String said) {
        this.said = plain(said);
    }

    /** Lower case, single blanks. */
    static String plain(String text) {
        return text.strip().toLowerCase(Locale.ROOT).replaceAll("\\s+", " ");
    }

    /** Whether a plain text holds the words, neither end within another word. */
    boolean isIn(String plainText) {
        for (int at = plainText.indexOf(said); at >= 0 && !said.isEmpty(); at = plainText.indexOf(said, at + 1)) {
            int end = at + said.length();
            boolean starts = at == 0 || !Character.isLetterOrDigit(plainText.charAt(at - 1));
            boolean ends = end == plainText.length() || !Character.isLetterOrDigit(plainText.charAt(end));
            if (starts && ends) {
                return true;
            }
        }
        return false;
    }
}
