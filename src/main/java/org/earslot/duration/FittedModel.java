package org.earslot.duration;

import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitTerms;

/** What was learnt; immutable, safe for use by several threads. */
public interface FittedModel {

    /** How long this visit will take. Findings ({@link Term.Finding#found}) and kinds used are not looked at. */
    Prediction predict(VisitTerms visit);

    /** Past visits behind it. */
    long visits();

    /** Those of them that were stopped early. */
    long stoppedEarly();

    /** How it follows a change of practice. */
    default FollowedDrift drift() {
        return FollowedDrift.NONE;
    }
}
