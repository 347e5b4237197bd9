package org.earslot.page.web;

import org.springframework.boot.diagnostics.AbstractFailureAnalyzer;
import org.springframework.boot.diagnostics.FailureAnalysis;

/** The server was to listen where others reach it, without TLS. */
class UnprotectedAddress extends RuntimeException {

    UnprotectedAddress(String address) {
        super("Others could read along: " + (address.isBlank() ? "every address of this machine" : address)
                + " is reached from other machines, and nothing says how the connection is encrypted.");
    }

    /** Says it without a stack trace, and what to do. */
    static class Analyzer extends AbstractFailureAnalyzer<UnprotectedAddress> {
        @Override
        protected FailureAnalysis analyze(Throwable rootFailure, UnprotectedAddress cause) {
            return new FailureAnalysis(
                    cause.getMessage(),
                    "Name the IP address of the TLS proxy in EARSLOT_WEB_PROXIES and its public name in EARSLOT_WEB_HOSTS,"
                            + " or give the server a certificate (SERVER_SSL_...),"
                            + " or listen on this machine alone (EARSLOT_ADDRESS=127.0.0.1).",
                    cause);
        }
    }
}
