package org.earslot.testing;

import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.springframework.boot.test.util.TestPropertyValues;
import org.springframework.context.ApplicationContextInitializer;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.test.context.ContextConfiguration;

/** Runs the test's application on a new database of a real PostgreSQL server. */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Inherited
@ContextConfiguration(initializers = OnPostgres.Database.class)
public @interface OnPostgres {

    /** Points the application at the new database. */
    class Database implements ApplicationContextInitializer<ConfigurableApplicationContext> {
        @Override
        public void initialize(ConfigurableApplicationContext context) {
            TestPropertyValues.of(
                            "spring.datasource.url=" + PostgresServer.newDatabase(),
                            "spring.datasource.username=" + PostgresServer.user(),
                            "spring.datasource.password=" + PostgresServer.password())
                    .applyTo(context);
        }
    }
}
