package org.earslotbroken.lower;

import org.earslotbroken.upper.Attic;

/** Looks up, which it may not. */
public class Cellar {
    Attic attic;
}
