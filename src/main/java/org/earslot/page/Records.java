package org.earslot.page;

import java.lang.reflect.Constructor;
import java.lang.reflect.Method;
import java.lang.reflect.RecordComponent;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.BeanUtils;
import org.springframework.util.ReflectionUtils;

/** Records by the names of their components. */
public final class Records {

    private Records() {}

    /** The value of every component by its name, in their order. */
    public static Map<String, @Nullable Object> values(Record from) {
        Map<String, @Nullable Object> values = new LinkedHashMap<>();
        for (RecordComponent component : from.getClass().getRecordComponents()) {
            Method accessor = component.getAccessor();
            ReflectionUtils.makeAccessible(accessor);
            values.put(component.getName(), ReflectionUtils.invokeMethod(accessor, from));
        }
        return values;
    }

    /** A record with these values; null for a component that is not among them. */
    public static <T extends Record> T of(Class<T> type, Map<String, @Nullable Object> values) {
        Constructor<T> canonical = BeanUtils.getResolvableConstructor(type);
        Object[] arguments = Arrays.stream(type.getRecordComponents())
                .map(component -> values.get(component.getName()))
                .toArray();
        return BeanUtils.instantiateClass(canonical, arguments);
    }
}
