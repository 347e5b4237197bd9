package org.earslotbroken.upper;

import org.earslotbroken.upper.web.AtticPage;

/** Knows its page, which it may not. */
public class Attic {
    AtticPage page;
}
