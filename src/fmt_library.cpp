// The formatting library as a part of the program, for Debian has it as a shared library only: loading that,
// and with it the shared C++ library, takes a twentieth of a check of a small build. What version 9 compiles
// into its own library; other versions are linked as they come (CMakeLists.txt).
#include <fmt/format-inl.h>

FMT_BEGIN_NAMESPACE
namespace detail {

template auto dragonbox::to_decimal(float x) noexcept -> dragonbox::decimal_fp<float>;
template auto dragonbox::to_decimal(double x) noexcept -> dragonbox::decimal_fp<double>;
template locale_ref::locale_ref(const std::locale& locale);
template auto locale_ref::get<std::locale>() const -> std::locale;
template auto thousands_sep_impl(locale_ref locale) -> thousands_sep_result<char>;
template auto decimal_point_impl(locale_ref locale) -> char;
template void buffer<char>::append(const char* begin, const char* end);
template void vformat_to(buffer<char>& out, string_view pattern,
                         basic_format_args<FMT_BUFFER_CONTEXT(char)> values, locale_ref locale);

}  // namespace detail
FMT_END_NAMESPACE
