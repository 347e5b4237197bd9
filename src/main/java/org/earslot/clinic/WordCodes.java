package org.earslot.clinic;

import jakarta.persistence.AttributeConverter;
import jakarta.persistence.Converter;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.Set;
import java.util.stream.Collectors;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnsuitableReason;
import org.earslot.ear.Wax;

/** Keeps the trade's words in the database by their codes, since the room of the words knows no database. */
final class WordCodes {

    private WordCodes() {}

    @Converter(autoApply = true)
    static class AnswerCode extends WordCode<Answer> {
        AnswerCode() {
            super(Answer.values());
        }
    }

    @Converter(autoApply = true)
    static class AttendanceCode extends WordCode<Attendance> {
        AttendanceCode() {
            super(Attendance.values());
        }
    }

    @Converter(autoApply = true)
    static class CanalCode extends WordCode<Canal> {
        CanalCode() {
            super(Canal.values());
        }
    }

    /**
     * For the table of cautions, in which a cell of an unknown caution has no use. What is known of a patient is stored as
     * its raw code instead: a caution that is not understood must never read as none.
     */
    @Converter(autoApply = true)
    static class CautionCode extends WordCode<Caution> {
        CautionCode() {
            super(Caution.values());
        }
    }

    @Converter(autoApply = true)
    static class DepthCode extends WordCode<Depth> {
        DepthCode() {
            super(Depth.values());
        }
    }

    @Converter(autoApply = true)
    static class EarCode extends WordCode<Ear> {
        EarCode() {
            super(Ear.values());
        }
    }

    @Converter(autoApply = true)
    static class EarsCode extends WordCode<Ears> {
        EarsCode() {
            super(Ears.values());
        }
    }

    @Converter(autoApply = true)
    static class MethodCode extends WordCode<Method> {
        MethodCode() {
            super(Method.values());
        }
    }

    @Converter(autoApply = true)
    static class NextStepCode extends WordCode<NextStep> {
        NextStepCode() {
            super(NextStep.values());
        }
    }

    @Converter(autoApply = true)
    static class OcclusionCode extends WordCode<Occlusion> {
        OcclusionCode() {
            super(Occlusion.values());
        }
    }

    @Converter(autoApply = true)
    static class OutcomeCode extends WordCode<Outcome> {
        OutcomeCode() {
            super(Outcome.values());
        }
    }

    @Converter(autoApply = true)
    static class StoppedEarlyCode extends WordCode<StoppedEarly> {
        StoppedEarlyCode() {
            super(StoppedEarly.values());
        }
    }

    @Converter(autoApply = true)
    static class UnsuitableReasonCode extends WordCode<UnsuitableReason> {
        UnsuitableReasonCode() {
            super(UnsuitableReason.values());
        }
    }

    @Converter(autoApply = true)
    static class WaxCode extends WordCode<Wax> {
        WaxCode() {
            super(Wax.values());
        }
    }

    /** A set of methods, joined by semicolons. */
    @Converter
    static class MethodsCode implements AttributeConverter<Set<Method>, String> {

        @Override
        public String convertToDatabaseColumn(Set<Method> methods) {
            return methods.stream().sorted().map(Method::code).collect(Collectors.joining(";"));
        }

        @Override
        public Set<Method> convertToEntityAttribute(String codes) {
            Set<Method> methods = EnumSet.noneOf(Method.class);
            Arrays.stream(codes.split(";"))
                    .flatMap(code -> Method.of(code).stream())
                    .forEach(methods::add);
            return methods;
        }
    }
}
