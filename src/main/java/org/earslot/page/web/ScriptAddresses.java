package org.earslot.page.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.security.MessageDigest;
import java.time.Duration;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HexFormat;
import org.apache.commons.codec.digest.DigestUtils;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;
import org.springframework.http.CacheControl;
import org.springframework.web.servlet.config.annotation.ResourceHandlerRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import org.springframework.web.servlet.resource.FixedVersionStrategy;
import org.springframework.web.servlet.resource.VersionResourceResolver;

/**
 * Scripts import one another by relative addresses, so one version stands before the names of all of them: the hash of
 * what they all contain. A browser keeps them until any of them changes, and then never mixes old with new.
 */
@Configuration(proxyBeanMethods = false)
class ScriptAddresses implements WebMvcConfigurer {

    private static final String FOLDER = "classpath:/static/scripts/";
    private static final Duration KEPT = Duration.ofDays(365);

    @Override
    public void addResourceHandlers(ResourceHandlerRegistry registry) {
        registry.addResourceHandler("/scripts/**")
                .addResourceLocations(FOLDER)
                .setCacheControl(CacheControl.maxAge(KEPT))
                .resourceChain(true)
                .addResolver(
                        new VersionResourceResolver().addVersionStrategy(new FixedVersionStrategy(version()), "/**"));
    }

    private static String version() {
        try {
            Resource[] scripts = new PathMatchingResourcePatternResolver().getResources(FOLDER + "*.js");
            Arrays.sort(scripts, Comparator.comparing(Resource::getFilename));
            MessageDigest digest = DigestUtils.getSha256Digest();
            for (Resource script : scripts) {
                digest.update(script.getContentAsByteArray());
            }
            return HexFormat.of().formatHex(digest.digest(), 0, 16);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
