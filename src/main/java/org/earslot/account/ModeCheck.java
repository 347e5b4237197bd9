package org.earslot.account;

import org.earslot.clinic.Clinics;
import org.springframework.beans.factory.SmartInitializingSingleton;
import org.springframework.core.env.Environment;
import org.springframework.core.env.Profiles;
import org.springframework.stereotype.Component;

/**
 * Keeps demo and normal mode apart, before the first request is answered: everyone may know the demo's passwords and
 * key, so they must open no clinic that is run for real, and demo mode must show no real clinic's accounts.
 */
@Component
class ModeCheck implements SmartInitializingSingleton {

    private final Clinics clinics;
    private final Environment environment;

    ModeCheck(Clinics clinics, Environment environment) {
        this.clinics = clinics;
        this.environment = environment;
    }

    @Override
    public void afterSingletonsInstantiated() {
        if (environment.acceptsProfiles(Profiles.of("demo"))) {
            if (clinics.existsByDemo(false)) {
                throw new WrongMode(
                        "This database holds a clinic's own records, and demo mode shows accounts and passwords.",
                        "Start without the profile demo, or set EARSLOT_DB_URL to a database of the demo's own.");
            }
        } else if (clinics.existsByDemo(true)) {
            throw new WrongMode(
                    "This database was made by demo mode: everyone may know its passwords and its key.",
                    "Set EARSLOT_DB_URL to a new database for your clinic, or start with the profile demo.");
        }
    }
}
