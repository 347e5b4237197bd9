package org.earslot.review.advice;

import org.earslot.estimate.Question;
import org.earslot.estimate.WhoCanAnswer;

/**
 * What asking one thing at every referral would have saved.
 *
 * @param finding what to ask about: wax, canal, softener, ...
 * @param whoCanAnswer "patient" or "referrer"
 * @param notKnown how often it was not known, in the visits sampled; each ear counts
 * @param minutesEach by how much an answer narrows an estimate in the mean, minutes
 * @param minutesAll the same over all visits booked in these months
 */
public record QuestionLine(String finding, String whoCanAnswer, int notKnown, double minutesEach, double minutesAll) {

    /** The key of the word for what is asked about. */
    public String word() {
        return new Question(null, finding, WhoCanAnswer.REFERRER, minutesEach).subjectWord();
    }
}
