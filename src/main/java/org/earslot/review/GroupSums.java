package org.earslot.review;

import java.util.List;

/** What the groups of one dimension come to. */
record GroupSums(Dimension by, List<GroupSum> sums) {}
