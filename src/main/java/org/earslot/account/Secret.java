package org.earslot.account;

import java.security.SecureRandom;
import java.util.HexFormat;
import org.apache.commons.codec.digest.DigestUtils;

/**
 * A secret that is generated, shown once and then kept only as its SHA-256. That hash is fast, which is right for
 * secrets of 100 random bits and more, and wrong for passwords.
 */
record Secret(String shown) {

    private static final SecureRandom RANDOM = new SecureRandom();
    /** No 0, 1, i, l, o, u: none is mistaken for another when read aloud or copied by hand. */
    private static final String LETTERS = "23456789abcdefghjkmnpqrstvwxyz";

    private static final int GROUPS = 5;
    private static final int GROUP_LENGTH = 5;

    /** A key of 256 bits in hexadecimal, for programs. */
    static Secret key() {
        byte[] bytes = new byte[32];
        RANDOM.nextBytes(bytes);
        return new Secret(HexFormat.of().formatHex(bytes));
    }

    /** A code for people to copy: five groups of five characters, 122 bits. */
    static Secret code() {
        StringBuilder code = new StringBuilder();
        for (int i = 0; i < GROUPS * GROUP_LENGTH; i++) {
            if (i > 0 && i % GROUP_LENGTH == 0) {
                code.append('-');
            }
            code.append(LETTERS.charAt(RANDOM.nextInt(LETTERS.length())));
        }
        return new Secret(code.toString());
    }

    /** The SHA-256 of what is shown, in hexadecimal. */
    String hash() {
        return DigestUtils.sha256Hex(shown);
    }

    @Override
    public String toString() {
        return "Secret";
    }
}
