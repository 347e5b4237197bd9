package org.earslot;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;

/** Starts the application. */
@SpringBootApplication
public class Earslot {
    public static void main(String[] args) {
        SpringApplication.run(Earslot.class, args);
    }
}
