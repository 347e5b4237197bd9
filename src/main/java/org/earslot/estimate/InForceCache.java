package org.earslot.estimate;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.util.function.Supplier;
import org.earslot.clinic.ClinicId;

/**
 * What is derived from a clinic's fit in force, one value a clinic. It is made again when another version is in force;
 * of those who ask for it at the same moment, one makes it and the others wait.
 *
 * @param <V> thread-safe
 */
public final class InForceCache<V extends Object> {

    private final Cache<ClinicId, Versioned<V>> cache;

    private record Versioned<V extends Object>(String version, V value) {}

    /** @param maximumSize clinics; the value of one beyond them is made again when next asked for */
    public InForceCache(int maximumSize) {
        // Room for all from the start: a value may take seconds, during which a growing table would hold up other
        // clinics.
        cache = Caffeine.newBuilder()
                .initialCapacity(maximumSize)
                .maximumSize(maximumSize)
                .executor(Runnable::run)
                .build();
    }

    /**
     * The value of that version.
     *
     * @param make must not ask this cache; what it throws is thrown here, and nothing stored
     */
    public V get(ClinicId clinicId, String version, Supplier<V> make) {
        Versioned<V> known = cache.getIfPresent(clinicId);
        if (known != null && known.version().equals(version)) {
            return known.value();
        }
        return cache.asMap()
                .compute(
                        clinicId,
                        (id, before) -> before != null && before.version().equals(version)
                                ? before
                                : new Versioned<>(version, make.get()))
                .value();
    }

    /** Takes a value that was made elsewhere. */
    void put(ClinicId clinicId, String version, V value) {
        cache.put(clinicId, new Versioned<>(version, value));
    }
}
