package org.earslot.review.figures;

import java.util.List;

/** What the visits of one month say by themselves. @param head without what other months and the policy add */
public record MonthFigures(
        HeadLine head, List<GroupTable> where, Waits waits, Promised promised, Indicators indicators) {}
