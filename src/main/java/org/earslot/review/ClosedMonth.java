package org.earslot.review;

import java.time.Instant;
import org.earslot.review.figures.MonthReview;

/**
 * A month whose figures were reported.
 *
 * @param figures as they were then
 * @param by the sign-in name of who closed it
 */
public record ClosedMonth(Instant at, String by, MonthReview figures) {}
