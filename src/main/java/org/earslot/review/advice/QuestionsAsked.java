package org.earslot.review.advice;

import java.util.List;

/**
 * Which questions, always asked at referral, would have saved most.
 *
 * @param visits booked in the months looked at, cancelled ones left out
 * @param sampled of them, evenly, on which this was worked out
 * @param lines the most first; none that saves next to nothing
 */
public record QuestionsAsked(int visits, int sampled, List<QuestionLine> lines) {}
