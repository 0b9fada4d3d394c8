#error "yard must not see qrencode.h: DEVELOPERS.md, The rooms"
