package org.earslot.review;

import org.earslot.clinic.setup.SessionSetUp;
import org.earslot.clinic.setup.SetUp;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What tests of reviews work with, on whichever database. */
public abstract class ReviewedClinic {

    @Autowired
    protected Visits visits;

    @Autowired
    protected SetUp setUp;

    @Autowired
    protected SessionSetUp sessionSetUp;

    @Autowired
    protected TestClinics clinics;

    @Autowired
    protected JdbcClient database;

    @Autowired
    protected SettableClock clock;

    protected TestClinic clinic;
}
