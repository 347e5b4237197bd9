package org.earslot.page;

/** What a browser may load for a page of this program. */
public final class ContentPolicy {

    /** No script, style, frame or form target from elsewhere, and nothing written into the page itself. */
    public static final String DIRECTIVES =
            "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    private ContentPolicy() {}
}
