package org.earslot.referral;

import org.earslot.caution.Mark;

/**
 * What is asked about a red flag, and where guidance sends whoever says yes.
 *
 * @param source where that stands
 * @param mark whether the source says so, or it is from memory
 */
public record RedFlagText(RedFlag flag, String ask, String sendsTo, String source, Mark mark) {}
