#error "tool must not see archive.h: DEVELOPERS.md, The rooms"
