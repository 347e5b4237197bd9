package org.earslot;

import static java.util.stream.Collectors.groupingBy;
import static java.util.stream.Collectors.mapping;
import static java.util.stream.Collectors.toList;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.AnnotatedBeanDefinition;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.context.annotation.ClassPathScanningCandidateComponentProvider;
import org.springframework.core.type.filter.AnnotationTypeFilter;
import org.springframework.test.context.BootstrapUtils;
import org.springframework.test.context.MergedContextConfiguration;
import org.springframework.util.ClassUtils;

/**
 * Each different way to start the application for a test costs the suite about ten seconds, so tests share a few: see
 * the annotations in {@code testing}.
 */
class ApplicationsStartedTest {

    private static final int MOST = 16;

    @Test
    void are_few() {
        List<Class<?>> tests = wholeApplicationTests();
        assertThat(tests).hasSizeGreaterThan(100);
        Map<MergedContextConfiguration, List<String>> byApplication = tests.stream()
                .collect(groupingBy(ApplicationsStartedTest::application, mapping(Class::getName, toList())));
        assertThat(byApplication.values())
                .as("tests by the application that they share")
                .hasSizeLessThanOrEqualTo(MOST);
    }

    private static MergedContextConfiguration application(Class<?> test) {
        return BootstrapUtils.resolveTestContextBootstrapper(test).buildMergedContextConfiguration();
    }

    private static List<Class<?>> wholeApplicationTests() {
        ClassPathScanningCandidateComponentProvider scan = new ClassPathScanningCandidateComponentProvider(false) {
            @Override
            protected boolean isCandidateComponent(AnnotatedBeanDefinition found) {
                return found.getMetadata().isConcrete();
            }
        };
        scan.addIncludeFilter(new AnnotationTypeFilter(SpringBootTest.class));
        return scan.findCandidateComponents("org.earslot").stream()
                .<Class<?>>map(found -> ClassUtils.resolveClassName(found.getBeanClassName(), null))
                .toList();
    }
}
