package org.earslot;

import java.util.Arrays;
import org.earslot.account.ResetLeadCommand;
import org.earslot.exchange.EvaluateCommand;
import org.earslot.page.OutOfMemory;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;

/**
 * Starts the application, or runs one of the commands that need no server. Beans go by their full names:
 * two rooms may each have a type of the same simple name.
 */
@SpringBootApplication(nameGenerator = FullyQualifiedAnnotationBeanNameGenerator.class)
public class Earslot {
    public static void main(String[] args) {
        if (args.length > 0 && args[0].equals(EvaluateCommand.NAME)) {
            EvaluateCommand evaluate = new EvaluateCommand(System.out, System.err);
            System.exit(evaluate.run(Arrays.asList(args).subList(1, args.length)));
        }
        if (args.length > 0 && args[0].equals(ResetLeadCommand.NAME)) {
            ResetLeadCommand resetLead = new ResetLeadCommand(System.out, System.err);
            System.exit(resetLead.run(Arrays.asList(args).subList(1, args.length)));
        }
        OutOfMemory.endsTheProcess();
        SpringApplication.run(Earslot.class, args);
    }
}
