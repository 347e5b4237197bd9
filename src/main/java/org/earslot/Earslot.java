package org.earslot;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;

/** Starts the application. Beans go by their full names: two rooms may each have a type of the same simple name. */
@SpringBootApplication(nameGenerator = FullyQualifiedAnnotationBeanNameGenerator.class)
public class Earslot {
    public static void main(String[] args) {
        SpringApplication.run(Earslot.class, args);
    }
}
