package org.earslot;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.type;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.constructors;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaConstructor;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.earslot.ConstructorsAboveSeven.Above;
import org.earslot.page.Messages;
import org.earslotbroken.BrokenHouse;
import org.junit.jupiter.api.Test;
import org.springframework.context.MessageSource;
import org.springframework.modulith.core.ApplicationModules;
import org.springframework.modulith.core.Violations;
import org.springframework.stereotype.Component;

/** The rooms and their arrows are as each package-info says; a broken house shows that each check bites. */
class ModularityTest {

    private static final ArchRule ROOMS_DO_NOT_KNOW_THEIR_PAGES = noClasses()
            .that(not(resideInAPackage("..web..")))
            .should()
            .dependOnClassesThat(resideInAPackage("..web..").and(resideInAPackage("org.earslot..")));

    private static final ArchRule PAGES_LIVE_IN_WEB = classes()
            .that()
            .areAnnotatedWith("org.springframework.stereotype.Controller")
            .or()
            .areAnnotatedWith("org.springframework.web.bind.annotation.RestController")
            .should()
            .resideInAPackage("..web..");

    private static final ArchRule ONE_BEAN_READS_THE_WORDING =
            noClasses().that(not(type(Messages.class))).should().dependOnClassesThat(type(MessageSource.class));

    private static final int MOST_FILES_IN_A_PACKAGE = 45;

    private static final int MOST_COLLABORATORS = 7;

    private static final ArchRule FEW_COLLABORATORS = constructors()
            .that()
            .areDeclaredInClassesThat()
            .areMetaAnnotatedWith(Component.class)
            .should(
                    new ArchCondition<>(
                            "have at most " + MOST_COLLABORATORS + " parameters, or be known to have more") {
                        @Override
                        public void check(JavaConstructor constructor, ConditionEvents events) {
                            String name = constructor.getOwner().getName().replaceFirst("^org\\.earslot\\.", "");
                            int count = constructor.getRawParameterTypes().size();
                            Above known = ConstructorsAboveSeven.KNOWN.get(name);
                            int most = known == null ? MOST_COLLABORATORS : known.most();
                            events.add(new SimpleConditionEvent(
                                    constructor, count <= most, name + " takes " + count + ", at most " + most));
                        }
                    });

    private final JavaClasses house = new ClassFileImporter()
            .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
            .importPackages("org.earslot");

    @Test
    void rooms_depend_only_on_the_rooms_they_name() {
        ApplicationModules rooms = ApplicationModules.of(Earslot.class);
        assertThat(rooms.stream().count()).isGreaterThanOrEqualTo(14);
        rooms.verify();
    }

    @Test
    void rooms_do_not_know_their_pages() {
        ROOMS_DO_NOT_KNOW_THEIR_PAGES.check(house);
        PAGES_LIVE_IN_WEB.check(house);
    }

    @Test
    void wording_is_read_through_one_bean() {
        ONE_BEAN_READS_THE_WORDING.check(house);
    }

    @Test
    void packages_form_no_cycle() {
        slices().matching("org.earslot.(**)").should().beFreeOfCycles().check(house);
    }

    @Test
    void a_package_is_no_larger_than_a_person_can_know() {
        Map<String, Long> files = house.stream()
                .filter(JavaClass::isTopLevelClass)
                .collect(Collectors.groupingBy(JavaClass::getPackageName, Collectors.counting()));
        assertThat(files)
                .hasSizeGreaterThan(40)
                .allSatisfy((name, count) -> assertThat(count).as(name).isLessThanOrEqualTo(MOST_FILES_IN_A_PACKAGE));
    }

    @Test
    void no_two_classes_share_a_simple_name() {
        Map<String, List<String>> places = house.stream()
                .filter(one -> one.isTopLevelClass() && !one.getSimpleName().equals("package-info"))
                .collect(Collectors.groupingBy(
                        JavaClass::getSimpleName, Collectors.mapping(JavaClass::getPackageName, Collectors.toList())));
        assertThat(places)
                .hasSizeGreaterThan(600)
                .allSatisfy((name, packages) -> assertThat(packages).as(name).hasSize(1));
    }

    @Test
    void a_bean_takes_few_collaborators() {
        FEW_COLLABORATORS.check(house);
        assertThat(ConstructorsAboveSeven.KNOWN.keySet())
                .allSatisfy(name -> assertThat(house.contain("org.earslot." + name))
                        .as(name)
                        .isTrue());
    }

    @Test
    void a_broken_house_is_found_out() {
        ApplicationModules broken = ApplicationModules.of(BrokenHouse.class, location -> true);
        assertThatThrownBy(broken::verify).isInstanceOf(Violations.class).hasMessageContaining("upper");
        JavaClasses classes = new ClassFileImporter().importPackages("org.earslotbroken");
        ArchRule same = noClasses()
                .that(not(resideInAPackage("..web..")))
                .should()
                .dependOnClassesThat(resideInAPackage("..web.."));
        assertThatThrownBy(() -> same.check(classes)).isInstanceOf(AssertionError.class);
        assertThatThrownBy(() -> ONE_BEAN_READS_THE_WORDING.check(classes))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("AtticPage.wording");
        assertThatThrownBy(() -> FEW_COLLABORATORS.check(classes))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("CrowdedRoom takes 8, at most 7");
        ArchRule noCycle = slices().matching("org.earslotbroken.(**)").should().beFreeOfCycles();
        assertThatThrownBy(() -> noCycle.check(classes))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("upper.web")
                .hasMessageContaining("AtticPage.attic");
    }
}
