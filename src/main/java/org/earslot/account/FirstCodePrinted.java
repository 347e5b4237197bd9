package org.earslot.account;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/** Prints the code of the first sign-in at each start until somebody has used one. */
@Component
@Profile("!demo")
class FirstCodePrinted implements ApplicationRunner {

    private static final Logger LOG = LoggerFactory.getLogger(FirstCodePrinted.class);

    private final FirstSignIn firstSignIn;

    FirstCodePrinted(FirstSignIn firstSignIn) {
        this.firstSignIn = firstSignIn;
    }

    @Override
    public void run(ApplicationArguments arguments) {
        firstSignIn
                .newCode()
                .ifPresent(code -> LOG.warn(
                        "Nobody has an account yet. Open /first-sign-in and give this code, which serves once: {}",
                        code.shown()));
    }
}
