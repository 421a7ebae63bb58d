"""Messages, presses and files pass the local Bot API server whole, both ways."""

import pytest
from telegram import (
    InputMediaDocument,
    InputMediaPhoto,
    Message,
)
from telegram.error import (
    BadRequest,
)

from tests.local_bot_api import BOT, LocalBotApi
from tests.local_bot_api.fixtures import NOW, Bot, keyboard

PNG = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + (200).to_bytes(4) + (100).to_bytes(4)


async def test_what_is_sent_and_edited_can_be_seen(api: LocalBotApi, bot: Bot) -> None:
    robin = api.phone()
    robin.text("hi")
    first = await bot.send_message(501, "<b>Shadows</b> &amp; more ", parse_mode="HTML")
    await bot.send_message(501, "second", reply_markup=keyboard("Undo"))
    await bot.edit_message_text("edited", 501, first.message_id)
    assert first.text == "Shadows & more"
    assert [(e.type, e.offset, e.length) for e in first.entities] == [("bold", 0, 7)]
    assert [m["text"] for m in api.visible(501)] == ["hi", "edited", "second"]
    assert [m["from"]["id"] for m in api.visible(501)] == [501, BOT["id"], BOT["id"]]
    await bot.delete_message(501, first.message_id)
    assert [m["text"] for m in api.visible(501)] == ["hi", "second"]
    assert api.violations == []


async def test_edits_are_refused_as_the_platform_refuses_them(api: LocalBotApi, bot: Bot) -> None:
    said = api.phone().text("hi")
    own = await bot.send_message(501, "same")
    with pytest.raises(BadRequest, match="Message is not modified: specified new message"):
        await bot.edit_message_text("same", 501, own.message_id)
    with pytest.raises(BadRequest, match="Message to edit not found"):
        await bot.edit_message_text("new", 501, 99)
    with pytest.raises(BadRequest, match="Message can't be edited"):
        await bot.edit_message_text("new", 501, said.message_id)
    with pytest.raises(BadRequest, match="Chat not found"):
        await bot.send_message(777, "nobody wrote from there")
    assert api.violations == []


async def test_an_edit_without_a_keyboard_takes_the_keyboard_away(
    api: LocalBotApi, bot: Bot
) -> None:
    robin = api.phone()
    robin.text("hi")
    asked = await bot.send_message(501, "Which Sofia?", reply_markup=keyboard("Sofia R."))
    await bot.edit_message_reply_markup(501, asked.message_id, reply_markup=keyboard("Both"))
    assert robin.press("Both").message_id == asked.message_id
    await bot.edit_message_text("Done", 501, asked.message_id)
    with pytest.raises(LookupError, match="no message with buttons in chat 501"):
        robin.press("Both")


async def test_a_press_carries_the_data_and_is_answered(api: LocalBotApi, bot: Bot) -> None:
    robin = api.phone()
    robin.text("hi")
    await bot.send_message(501, "ok", reply_markup=keyboard("Undo", "Plan"))
    robin.press("Undo")
    robin.press(data="plan")
    _, undo, plan = await bot.get_updates()
    assert undo.callback_query is not None
    assert plan.callback_query is not None
    assert [undo.callback_query.data, plan.callback_query.data] == ["undo", "plan"]
    assert isinstance(undo.callback_query.message, Message)
    assert undo.callback_query.message.text == "ok"
    await undo.callback_query.answer("Undone")
    assert api.unanswered_presses == ["plan"]
    api.expire_presses()
    with pytest.raises(BadRequest, match="Query is too old"):
        await plan.callback_query.answer()
    with pytest.raises(LookupError, match=r"no button 'Redo' among \['Undo', 'Plan'\]"):
        robin.press("Redo")


async def test_a_stale_press_reaches_the_bot(api: LocalBotApi, bot: Bot) -> None:
    robin = api.phone()
    robin.text("hi")
    asked = await bot.send_message(501, "ok", reply_markup=keyboard("Undo"))
    await bot.edit_message_text("done", 501, asked.message_id)
    robin.press(data="undo", message_id=asked.message_id, stale=True)
    update = (await bot.get_updates())[-1]
    assert update.callback_query is not None
    assert update.callback_query.data == "undo"


async def test_the_same_press_can_come_again_under_a_new_update_id(
    api: LocalBotApi, bot: Bot
) -> None:
    robin = api.phone()
    robin.text("hi")
    await bot.send_message(501, "ok", reply_markup=keyboard("Undo"))
    assert api.repeat(robin.press("Undo")) == 1002
    _, first, again = await bot.get_updates()
    assert (first.update_id, again.update_id) == (1001, 1002)
    assert first.callback_query == again.callback_query


async def test_an_edited_message_keeps_its_date_and_gets_an_edit_date(
    api: LocalBotApi, bot: Bot
) -> None:
    robin = api.phone()
    sent = robin.text("g3 ramps", date=NOW - 600)
    robin.edit(sent.message_id, "g4 ramps")
    edited = (await bot.get_updates())[1].edited_message
    assert edited is not None
    assert edited.edit_date is not None
    assert (edited.message_id, edited.text) == (sent.message_id, "g4 ramps")
    assert (edited.date.timestamp(), edited.edit_date.timestamp()) == (NOW - 600, NOW)


async def test_everything_a_phone_can_send_is_read_by_the_client(
    api: LocalBotApi, bot: Bot
) -> None:
    robin = api.phone(501, "Robin", username="robin_k")
    robin.sticker()
    robin.photo(b"\xff\xd8\xff board", caption="the board")
    robin.document(b"name\nAva R.\n", "students.csv", mime_type="text/csv")
    robin.voice()
    robin.album([b"\xff\xd8\xff one", b"\xff\xd8\xff two"], caption="two sheets")
    robin.forward("from a colleague", from_name="Sam", original_date=NOW - 86_400)
    group = api.phone(501, "Robin", chat_id=-7, chat_type="group", chat_title="Grade 1")
    group.text("/start@local_test_bot hello @local_test_bot")
    messages = [u.message for u in await bot.get_updates()]
    sticker, photo, document, voice, one, two, forward, command = filter(None, messages)
    assert sticker.sticker is not None
    assert photo.caption == "the board"
    assert document.document is not None
    assert document.document.file_name == "students.csv"
    assert voice.voice is not None
    assert one.media_group_id == two.media_group_id == "album-501-5"
    assert (one.caption, two.caption) == ("two sheets", None)
    assert forward.forward_origin is not None
    assert (command.chat.id, command.chat.type, command.chat.title) == (-7, "group", "Grade 1")
    kinds = [(e.type, e.offset, e.length) for e in command.entities]
    assert kinds == [("bot_command", 0, 21), ("mention", 28, 15)]


async def test_a_file_can_be_fetched(api: LocalBotApi, bot: Bot) -> None:
    api.phone().document(b"name\nAva R.\n", "students.csv")
    (update,) = await bot.get_updates()
    assert update.message is not None
    assert update.message.document is not None
    file = await update.message.document.get_file()
    assert bytes(await file.download_as_bytearray()) == b"name\nAva R.\n"
    with pytest.raises(BadRequest, match="Wrong file_id"):
        await bot.get_file("file-9999")


async def test_files_of_the_bot_arrive_whole(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("hi")
    photo = await bot.send_photo(501, PNG, caption="coverage", reply_markup=keyboard("Refresh"))
    document = await bot.send_document(501, b"a,b\r\n1,2\r\n", filename="visits.csv")
    assert [(p.width, p.height) for p in photo.photo] == [(200, 100)]
    assert document.document is not None
    assert document.document.file_name == "visits.csv"
    assert api.chats.files[document.document.file_id].content == b"a,b\r\n1,2\r\n"
    again = await bot.send_document(501, document.document.file_id)
    assert again.document is not None
    assert again.document.file_id == document.document.file_id
    await bot.edit_message_caption(501, photo.message_id, caption="new")
    assert [m.get("caption") for m in api.visible(501)] == [None, "new", None, None]
    assert api.violations == []


async def test_an_album_of_the_bot_is_one_group(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("hi")
    sent = await bot.send_media_group(501, [InputMediaPhoto(PNG), InputMediaPhoto(PNG)])
    assert [m.media_group_id for m in sent] == ["sent-album-1"] * 2
    with pytest.raises(BadRequest, match="2-10 items"):
        await bot.send_media_group(501, [InputMediaDocument(b"x")])


async def test_a_chat_action_and_a_reply_are_seen(api: LocalBotApi, bot: Bot) -> None:
    sent = api.phone().text("hi")
    await bot.send_chat_action(501, "typing")
    reply = await bot.send_message(501, "yes", reply_to_message_id=sent.message_id)
    assert api.methods.actions == [(501, "typing")]
    assert reply.reply_to_message is not None
    assert reply.reply_to_message.text == "hi"
    with pytest.raises(BadRequest, match="Message to be replied not found"):
        await bot.send_message(501, "yes", reply_to_message_id=99)
