package org.earslot.review.advice;

import org.earslot.review.figures.Change;
import org.earslot.review.figures.Share;

/**
 * How far one referrer's words can be relied on.
 *
 * @param referrer the name
 * @param asReported findings that were found as reported, of those reported; each ear counts
 * @param usual the share found as reported over all referrers, for the same mix of findings
 * @param likely the share to count on: this referrer's own, drawn towards the usual one by as much as counts are few
 * @param word "more", "less" than usual, "not_clear", or "not_known" where there are too few
 */
public record ReferrerLine(String referrer, Share asReported, double usual, double likely, Change.Verdict word) {}
