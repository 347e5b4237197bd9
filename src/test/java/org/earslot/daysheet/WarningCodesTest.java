package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.reflect.Constructor;
import java.lang.reflect.RecordComponent;
import java.util.Arrays;
import java.util.stream.Stream;
import org.earslot.daysheet.DaySheet.Warning;
import org.junit.jupiter.api.Test;

/** The page and the messages know a warning by its code, whatever its type is called. */
class WarningCodesTest {

    @Test
    void each_warning_has_the_code_that_its_text_and_the_page_go_by() {
        assertThat(records(Warning.class).map(type -> made(type).code()))
                .containsExactlyInAnyOrder(
                        "EndsLate",
                        "LongWaits",
                        "Contraindicated",
                        "MethodNotHeld",
                        "AgeNotSeen",
                        "NotHandedOver",
                        "CautionWorse",
                        "SetsShort",
                        "UnitElsewhere",
                        "UnitOutOfUse",
                        "ConsentNotKnown",
                        "StockLow",
                        "StockNotCounted",
                        "CautionsNotAsked",
                        "CautionsNotKnown",
                        "CautionsUnknown",
                        "CautionsContradicted",
                        "RedFlagOpen",
                        "RedFlagsNotAsked",
                        "SoftenerNotConfirmed",
                        "OutsideSession");
    }

    private static Stream<Class<?>> records(Class<?> type) {
        return type.isRecord()
                ? Stream.of(type)
                : Arrays.stream(type.getPermittedSubclasses()).flatMap(WarningCodesTest::records);
    }

    private static Warning made(Class<?> type) {
        try {
            Constructor<?> constructor = type.getDeclaredConstructors()[0];
            return (Warning) constructor.newInstance(Arrays.stream(type.getRecordComponents())
                    .map(RecordComponent::getType)
                    .map(part -> part == boolean.class
                            ? (Object) false
                            : part == int.class ? (Object) 0 : part == double.class ? (Object) 0.0 : null)
                    .toArray());
        } catch (ReflectiveOperationException e) {
            throw new AssertionError("cannot make a " + type.getSimpleName(), e);
        }
    }
}
