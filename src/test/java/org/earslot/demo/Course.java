package org.earslot.demo;

import java.util.List;
import java.util.Map;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;

/** How one visit went in the room. */
record Course(
        int minutes, Map<Ear, List<Method>> methods, StoppedEarly stopped, Map<Ear, Outcome> outcomes, String note) {}
