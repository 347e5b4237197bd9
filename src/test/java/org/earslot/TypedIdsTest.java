package org.earslot;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.constructors;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.fields;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.methods;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaCodeUnit;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import java.lang.reflect.Executable;
import java.lang.reflect.Parameter;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/**
 * Ids of different kinds cannot be swapped without the compiler saying so: nothing takes or holds one of the kinds that
 * have a type as a bare UUID. A broken house shows that each check bites.
 */
class TypedIdsTest {

    /** What the ids that have a type of their own are called. */
    private static final Set<String> TYPED = Set.of("clinic", "clinicId");

    private static final ArchRule PARAMETERS_OF_METHODS_ARE_TYPED = methods().should(new TakeTypedIds<>());

    private static final ArchRule PARAMETERS_OF_CONSTRUCTORS_ARE_TYPED =
            constructors().should(new TakeTypedIds<>());

    private static final ArchRule FIELDS_ARE_TYPED = fields().should(
                    new ArchCondition<>("hold ids as types of their own") {
                        @Override
                        public void check(JavaField field, ConditionEvents events) {
                            boolean bare =
                                    field.getRawType().isEquivalentTo(UUID.class) && TYPED.contains(field.getName());
                            events.add(new SimpleConditionEvent(field, !bare, field.getFullName() + " is a bare UUID"));
                        }
                    });

    @Test
    void ids_are_types_of_their_own() {
        JavaClasses house = new ClassFileImporter()
                .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
                .importPackages("org.earslot");
        PARAMETERS_OF_METHODS_ARE_TYPED.check(house);
        PARAMETERS_OF_CONSTRUCTORS_ARE_TYPED.check(house);
        FIELDS_ARE_TYPED.check(house);
    }

    @Test
    void a_bare_id_is_found_out() {
        JavaClasses broken = new ClassFileImporter().importPackages("org.earslotbroken");
        assertThatThrownBy(() -> PARAMETERS_OF_CONSTRUCTORS_ARE_TYPED.check(broken))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("Cloakroom.<init>(java.util.UUID) takes a bare UUID as clinicId");
        assertThatThrownBy(() -> PARAMETERS_OF_METHODS_ARE_TYPED.check(broken))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("Cloakroom.hang(java.util.UUID) takes a bare UUID as clinicId");
        assertThatThrownBy(() -> FIELDS_ARE_TYPED.check(broken))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("Cloakroom.clinicId is a bare UUID");
    }

    /** By the names of the parameters, which the compiler stores. */
    private static final class TakeTypedIds<T extends JavaCodeUnit> extends ArchCondition<T> {

        TakeTypedIds() {
            super("take ids as types of their own");
        }

        @Override
        public void check(T unit, ConditionEvents events) {
            for (Parameter parameter : ((Executable) unit.reflect()).getParameters()) {
                boolean bare = parameter.getType() == UUID.class && TYPED.contains(parameter.getName());
                events.add(new SimpleConditionEvent(
                        unit, !bare, unit.getFullName() + " takes a bare UUID as " + parameter.getName()));
            }
        }
    }
}
