package org.earslot.review;

import org.earslot.clinic.setup.SetUp;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What tests of kept figures work with, on whichever database. */
abstract class KeptFigures {

    @Autowired
    Visits visits;

    @Autowired
    SetUp setUp;

    @Autowired
    TestClinics clinics;

    @Autowired
    JdbcClient database;

    @Autowired
    SettableClock clock;

    TestClinic clinic;
}
