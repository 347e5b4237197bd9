package org.earslot.page.web;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.Forms;
import org.jspecify.annotations.Nullable;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.MethodParameter;
import org.springframework.web.bind.support.WebDataBinderFactory;
import org.springframework.web.context.request.NativeWebRequest;
import org.springframework.web.method.support.HandlerMethodArgumentResolver;
import org.springframework.web.method.support.ModelAndViewContainer;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;

/** Hands a controller the form that was sent, if it asks for one. */
@Configuration(proxyBeanMethods = false)
class FormArgument implements HandlerMethodArgumentResolver, WebMvcConfigurer {

    private final Forms forms;

    FormArgument(Forms forms) {
        this.forms = forms;
    }

    @Override
    public void addArgumentResolvers(List<HandlerMethodArgumentResolver> resolvers) {
        resolvers.add(this);
    }

    @Override
    public boolean supportsParameter(MethodParameter parameter) {
        return parameter.getParameterType() == Form.class;
    }

    @Override
    public Form resolveArgument(
            MethodParameter parameter,
            @Nullable ModelAndViewContainer container,
            NativeWebRequest request,
            @Nullable WebDataBinderFactory binders) {
        Map<String, List<String>> sent = request.getParameterMap().entrySet().stream()
                .collect(Collectors.toMap(Map.Entry::getKey, field -> Arrays.asList(field.getValue())));
        return forms.of(new FormFields(sent));
    }
}
