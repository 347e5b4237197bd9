package org.earslot.referral;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.earslot.ear.Method;
import org.springframework.stereotype.Service;

/** Which methods suit a referral on a date: expiring cautions are judged on the appointment's own date. */
@Service
public class MethodSuitability {

    private final CautionTable table = CautionTable.defaults();

    /** Every method with its verdict, in the order of the trade's list. */
    public List<Suitability> judge(ReferralDetails referral, LocalDate date) {
        return Arrays.stream(Method.values())
                .map(method -> judge(referral, method, date))
                .toList();
    }

    /** One method with its verdict. */
    public Suitability judge(ReferralDetails referral, Method method, LocalDate date) {
        List<Suitability.Reason> reasons = referral.cautions().stream()
                .filter(asked -> asked.ear() == null || referral.ears().include(asked.ear()))
                .flatMap(asked -> table.rules(asked.caution(), method).stream()
                        .filter(rule -> rule.countsOn(date, Optional.ofNullable(asked.since())))
                        .map(rule -> new Suitability.Reason(rule, Optional.ofNullable(asked.ear()))))
                .toList();
        Verdict worst =
                reasons.stream().map(reason -> reason.rule().verdict()).reduce(Verdict.SUITABLE, Verdict::orWorse);
        return new Suitability(method, worst, reasons);
    }
}
