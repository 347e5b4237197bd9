package org.earslot.review.figures;

import java.util.List;

/** What the groups of one dimension come to. */
public record GroupSums(Dimension by, List<GroupSum> sums) {}
