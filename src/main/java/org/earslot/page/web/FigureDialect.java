package org.earslot.page.web;

import java.util.Set;
import org.earslot.page.Figures;
import org.springframework.stereotype.Component;
import org.thymeleaf.context.IExpressionContext;
import org.thymeleaf.dialect.AbstractDialect;
import org.thymeleaf.dialect.IExpressionObjectDialect;
import org.thymeleaf.expression.IExpressionObjectFactory;

/** Gives every page {@code #figures}. */
@Component
public class FigureDialect extends AbstractDialect implements IExpressionObjectDialect {

    private static final String NAME = "figures";

    public FigureDialect() {
        super(NAME);
    }

    @Override
    public IExpressionObjectFactory getExpressionObjectFactory() {
        return new IExpressionObjectFactory() {
            @Override
            public Set<String> getAllExpressionObjectNames() {
                return Set.of(NAME);
            }

            @Override
            public Object buildObject(IExpressionContext context, String name) {
                return new Figures();
            }

            @Override
            public boolean isCacheable(String name) {
                return true;
            }
        };
    }
}
