package org.earslot.account;

import java.util.Arrays;
import org.springframework.security.core.Authentication;
import org.springframework.security.web.authentication.WebAuthenticationDetails;

/**
 * The address a sign-in comes from, as the server sees it (behind a declared proxy, the forwarded one). Of an IPv6
 * address only the first 64 bits count: one household or clinic has all that follow.
 */
final class SourceAddress {

    /** Of an attempt that came by no request. */
    static final String NONE = "-";

    private SourceAddress() {}

    static String of(Authentication asked) {
        boolean known = asked.getDetails() instanceof WebAuthenticationDetails;
        return known ? network(((WebAuthenticationDetails) asked.getDetails()).getRemoteAddress()) : NONE;
    }

    /** The address itself, or the network of an IPv6 address written in full or short. */
    static String network(String address) {
        if (!address.contains(":")) {
            return address;
        }
        String[] halves = address.replaceFirst("%.*", "").split("::", 2);
        String[] front = halves[0].isEmpty() ? new String[0] : halves[0].split(":");
        if (halves.length == 2 && front.length < 4) {
            int behind = halves[1].isEmpty() ? 0 : halves[1].split(":").length;
            String[] all = new String[Math.max(8, front.length + behind)];
            Arrays.fill(all, "0");
            System.arraycopy(front, 0, all, 0, front.length);
            if (behind > 0) {
                System.arraycopy(halves[1].split(":"), 0, all, all.length - behind, behind);
            }
            front = all;
        }
        return String.join(":", Arrays.asList(front).subList(0, Math.min(4, front.length))) + "::/64";
    }
}
