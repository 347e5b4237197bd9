package org.earslot.account;

import org.springframework.boot.diagnostics.AbstractFailureAnalyzer;
import org.springframework.boot.diagnostics.FailureAnalysis;

/** Says a start in the wrong mode in two sentences, without a stack trace. */
class WrongModeAnalyzer extends AbstractFailureAnalyzer<WrongMode> {

    @Override
    protected FailureAnalysis analyze(Throwable rootFailure, WrongMode cause) {
        return new FailureAnalysis(cause.getMessage(), cause.remedy(), cause);
    }
}
