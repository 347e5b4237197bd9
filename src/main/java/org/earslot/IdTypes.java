package org.earslot;

import java.util.List;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.clinic.ClinicId;
import org.hibernate.boot.model.TypeContributions;
import org.hibernate.boot.model.TypeContributor;
import org.hibernate.service.ServiceRegistry;
import org.hibernate.type.descriptor.WrapperOptions;
import org.hibernate.type.descriptor.java.AbstractClassJavaType;
import org.hibernate.type.descriptor.java.UUIDJavaType;
import org.hibernate.type.descriptor.jdbc.JdbcType;
import org.hibernate.type.descriptor.jdbc.JdbcTypeIndicators;

/**
 * Tells the database layer that the id of each kind of record, a type of its own in the program, is a UUID in its column.
 * It then serves keys, columns, parameters and projections alike. Loaded by name from {@code META-INF/services}.
 */
public final class IdTypes implements TypeContributor {

    private static final List<IdType<?>> ALL = List.of(new IdType<>(ClinicId.class, ClinicId::new, ClinicId::value));

    @Override
    public void contribute(TypeContributions types, ServiceRegistry services) {
        ALL.forEach(types::contributeJavaType);
    }

    /** One kind of id as a UUID. */
    private static final class IdType<T> extends AbstractClassJavaType<T> {

        private final transient Function<UUID, T> id;
        private final transient Function<T, UUID> value;

        IdType(Class<T> type, Function<UUID, T> id, Function<T, UUID> value) {
            super(type);
            this.id = id;
            this.value = value;
        }

        @Override
        public JdbcType getRecommendedJdbcType(JdbcTypeIndicators context) {
            return UUIDJavaType.INSTANCE.getRecommendedJdbcType(context);
        }

        @Override
        public boolean useObjectEqualsHashCode() {
            return true;
        }

        @Override
        public T fromString(CharSequence text) {
            return id.apply(UUIDJavaType.INSTANCE.fromString(text));
        }

        @Override
        public <X> X unwrap(T given, Class<X> type, WrapperOptions options) {
            return given == null ? null : UUIDJavaType.INSTANCE.unwrap(value.apply(given), type, options);
        }

        @Override
        public <X> T wrap(X given, WrapperOptions options) {
            if (given == null) {
                return null;
            }
            return getJavaTypeClass().isInstance(given)
                    ? getJavaTypeClass().cast(given)
                    : id.apply(UUIDJavaType.INSTANCE.wrap(given, options));
        }
    }
}
