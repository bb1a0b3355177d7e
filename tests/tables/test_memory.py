import platform

from upstroke_service.tables.memory import keep_freed_memory


def test_memory_is_kept_where_the_c_library_can() -> None:
    assert keep_freed_memory() == (platform.libc_ver()[0] == "glibc")
