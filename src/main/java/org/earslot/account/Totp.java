package org.earslot.account;

import java.nio.ByteBuffer;
import java.security.GeneralSecurityException;
import java.security.SecureRandom;
import java.time.Instant;
import java.util.OptionalLong;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * Codes of six digits that change every 30 seconds, from a secret shared with an authenticator app: RFC 6238 (TOTP) over
 * RFC 4226 (HOTP) with HMAC-SHA-1, the secret written in Base32 (RFC 4648).
 */
final class Totp {

    static final int DIGITS = 6;

    private static final int STEP_SECONDS = 30;
    /** Clocks that differ by one step are forgiven, as RFC 6238, section 5.2, recommends. */
    private static final int DRIFT = 1;
    /** 160 bits, the length RFC 4226, section 4, recommends. */
    private static final int SECRET_BYTES = 20;

    private static final String BASE32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
    private static final SecureRandom RANDOM = new SecureRandom();

    private Totp() {}

    /** A new secret, in Base32 without padding: 32 characters. */
    static String newSecret() {
        byte[] secret = new byte[SECRET_BYTES];
        RANDOM.nextBytes(secret);
        return base32(secret);
    }

    /**
     * The step whose code this is: now or one beside it, and later than {@code lastUsed}, so that a code serves once.
     *
     * @param given what was typed; blanks do not count
     */
    static OptionalLong step(String secret, String given, Instant now, long lastUsed) {
        String digits = given.replaceAll("\\s", "");
        if (!digits.matches("[0-9]{" + DIGITS + "}")) {
            return OptionalLong.empty();
        }
        int code = Integer.parseInt(digits);
        byte[] key = bytes(secret);
        long present = now.getEpochSecond() / STEP_SECONDS;
        for (long step = present - DRIFT; step <= present + DRIFT; step++) {
            if (step > lastUsed && code(key, step, DIGITS) == code) {
                return OptionalLong.of(step);
            }
        }
        return OptionalLong.empty();
    }

    /**
     * The code of a step: dynamic truncation of RFC 4226, section 5.3.
     *
     * @param digits 6 to 8
     */
    static int code(byte[] key, long step, int digits) {
        try {
            Mac mac = Mac.getInstance("HmacSHA1");
            mac.init(new SecretKeySpec(key, "RAW"));
            byte[] hash =
                    mac.doFinal(ByteBuffer.allocate(Long.BYTES).putLong(step).array());
            int offset = hash[hash.length - 1] & 0xf;
            int number = ByteBuffer.wrap(hash, offset, Integer.BYTES).getInt() & 0x7fffffff;
            return number % (int) Math.pow(10, digits);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("every Java platform brings HmacSHA1", e);
        }
    }

    /** Without padding. */
    static String base32(byte[] bytes) {
        StringBuilder text = new StringBuilder();
        int bits = 0;
        int held = 0;
        for (byte next : bytes) {
            held = (held << 8) | (next & 0xff);
            bits += 8;
            while (bits >= 5) {
                bits -= 5;
                text.append(BASE32.charAt((held >> bits) & 31));
            }
            held &= (1 << bits) - 1;
        }
        return bits == 0
                ? text.toString()
                : text.append(BASE32.charAt((held << (5 - bits)) & 31)).toString();
    }

    /** Of Base32 without padding. */
    static byte[] bytes(String base32) {
        ByteBuffer bytes = ByteBuffer.allocate(base32.length() * 5 / 8);
        int bits = 0;
        int held = 0;
        for (char next : base32.toCharArray()) {
            held = (held << 5) | BASE32.indexOf(next);
            bits += 5;
            if (bits >= 8) {
                bits -= 8;
                bytes.put((byte) (held >> bits));
                held &= (1 << bits) - 1;
            }
        }
        return bytes.array();
    }
}
