package org.earslotbroken.upper.web;

import org.earslotbroken.upper.Attic;

/** A page that knows its room, as it may; but its room knows it too. */
public class AtticPage {
    Attic attic;
}
