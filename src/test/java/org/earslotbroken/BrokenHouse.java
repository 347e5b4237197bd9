package org.earslotbroken;

import org.springframework.modulith.Modulithic;

/** A house of two rooms in which every arrow is wrong, to show that the checks of the real one bite. */
@Modulithic
public class BrokenHouse {}
