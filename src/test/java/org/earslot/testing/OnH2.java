package org.earslot.testing;

import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import java.util.UUID;
import org.springframework.boot.test.util.TestPropertyValues;
import org.springframework.context.ApplicationContextInitializer;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.test.context.ContextConfiguration;

/** Runs the test's application on a new H2 database in memory. */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Inherited
@ContextConfiguration(initializers = OnH2.Database.class)
public @interface OnH2 {

    /** Points the application at the new database. */
    class Database implements ApplicationContextInitializer<ConfigurableApplicationContext> {
        @Override
        public void initialize(ConfigurableApplicationContext context) {
            TestPropertyValues.of(
                            "spring.datasource.url=jdbc:h2:mem:" + UUID.randomUUID()
                                    + ";DB_CLOSE_DELAY=-1;LOCK_TIMEOUT=10000",
                            "spring.datasource.username=sa",
                            "spring.datasource.password=")
                    .applyTo(context);
        }
    }
}
