package org.earslot.testing;

import org.springframework.test.context.TestContext;
import org.springframework.test.context.support.AbstractTestExecutionListener;

/** Sets the settable clock back for each test: applications are shared between classes. */
public final class ClockSetBack extends AbstractTestExecutionListener {

    @Override
    public void prepareTestInstance(TestContext test) {
        setBack(test);
    }

    private static void setBack(TestContext test) {
        test.getApplicationContext().getBeanProvider(SettableClock.class).ifAvailable(SettableClock::setBack);
    }
}
