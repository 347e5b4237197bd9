package org.earslot.page.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.DefaultParameterNameDiscoverer;
import org.springframework.core.MethodParameter;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import org.springframework.web.util.UriComponentsBuilder;

/** Refuses query parameters of a program that the address does not take, so that a misspelt one is not ignored. */
@Configuration
class QueryParameters implements HandlerInterceptor, WebMvcConfigurer {

    private static final int LISTED = 20;

    @Override
    public void addInterceptors(InterceptorRegistry registry) {
        registry.addInterceptor(this).addPathPatterns("/api/v1/**").excludePathPatterns("/api/v1/openapi.json");
    }

    @Override
    public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler) {
        if (handler instanceof HandlerMethod method && request.getQueryString() != null) {
            Set<String> allowed = taken(method);
            List<Problem> unknown =
                    UriComponentsBuilder.newInstance()
                            .query(request.getQueryString())
                            .build()
                            .getQueryParams()
                            .keySet()
                            .stream()
                            .filter(name -> !allowed.contains(name))
                            .limit(LISTED)
                            .map(name -> unknown(name, allowed))
                            .toList();
            if (!unknown.isEmpty()) {
                throw Refused.invalid(unknown);
            }
        }
        return true;
    }

    private static Problem unknown(String name, Set<String> allowed) {
        MessageSourceResolvable may = allowed.isEmpty()
                ? Messages.text("page.allowed.noParameter")
                : Messages.text("page.allowed.parameters", String.join(", ", allowed));
        return new Problem(name, "", may, Messages.text("page.remedy.unknownField"));
    }

    private static Set<String> taken(HandlerMethod method) {
        return Arrays.stream(method.getMethodParameters())
                .filter(parameter -> parameter.hasParameterAnnotation(RequestParam.class))
                .map(QueryParameters::name)
                .collect(Collectors.toCollection(TreeSet::new));
    }

    private static String name(MethodParameter parameter) {
        RequestParam given = parameter.getParameterAnnotation(RequestParam.class);
        if (given != null && !given.name().isEmpty()) {
            return given.name();
        }
        parameter.initParameterNameDiscovery(new DefaultParameterNameDiscoverer());
        return String.valueOf(parameter.getParameterName());
    }
}
