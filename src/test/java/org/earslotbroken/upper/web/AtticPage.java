package org.earslotbroken.upper.web;

import org.earslotbroken.upper.Attic;
import org.springframework.context.MessageSource;

/** A page that knows its room, as it may; but its room knows it too. It reads wording past the one bean. */
public class AtticPage {
    Attic attic;
    MessageSource wording;
}
