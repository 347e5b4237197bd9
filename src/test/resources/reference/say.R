# How the scripts here print their numbers: key, then values in full.
say <- function(key, ...) {
    cat(key, sprintf("%.16g", c(...)), "\n")
}
